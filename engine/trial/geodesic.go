package trial

import "math"

// The Earth's ellipsoid, WGS 84.
const (
	earthAxis       = 6378137.0         // half the long axis, m
	earthFlattening = 1 / 298.257223563 //
	earthMinor      = earthAxis * (1 - earthFlattening)
)

// geodesic gives the shortest way on the ellipsoid between two places in
// degrees, m, and its course at the start, degrees from north.
//
// Vincenty 1975, Survey Review 23(176):88–93, inverse formula; to 0.1 mm. It
// does not settle for places nearly opposite on the Earth, which no outing
// reaches: then the distance is NaN.
func geodesic(lat1, lon1, lat2, lon2 float64) (distance, course float64) {
	const deg = math.Pi / 180
	u1 := math.Atan((1 - earthFlattening) * math.Tan(lat1*deg))
	u2 := math.Atan((1 - earthFlattening) * math.Tan(lat2*deg))
	apart := math.Remainder(lon2-lon1, 360) * deg
	sinU1, cosU1 := math.Sincos(u1)
	sinU2, cosU2 := math.Sincos(u2)
	lambda := apart
	for range 100 {
		sinL, cosL := math.Sincos(lambda)
		across, along := cosU2*sinL, cosU1*sinU2-sinU1*cosU2*cosL
		sinS := math.Hypot(across, along)
		if sinS == 0 {
			return 0, 0
		}
		cosS := sinU1*sinU2 + cosU1*cosU2*cosL
		sigma := math.Atan2(sinS, cosS)
		sinA := cosU1 * cosU2 * sinL / sinS
		cos2A := 1 - sinA*sinA
		cos2M := 0.0 // on the equator
		if cos2A > 0 {
			cos2M = cosS - 2*sinU1*sinU2/cos2A
		}
		c := earthFlattening / 16 * cos2A * (4 + earthFlattening*(4-3*cos2A))
		next := apart + (1-c)*earthFlattening*sinA*(sigma+c*sinS*(cos2M+c*cosS*(2*cos2M*cos2M-1)))
		if math.Abs(next-lambda) > 1e-13 {
			lambda = next
			continue
		}
		u := cos2A * (earthAxis*earthAxis - earthMinor*earthMinor) / (earthMinor * earthMinor)
		a := 1 + u/16384*(4096+u*(-768+u*(320-175*u)))
		b := u / 1024 * (256 + u*(-128+u*(74-47*u)))
		off := b * sinS * (cos2M + b/4*(cosS*(2*cos2M*cos2M-1)-b/6*cos2M*(4*sinS*sinS-3)*(4*cos2M*cos2M-3)))
		return earthMinor * a * (sigma - off), math.Mod(math.Atan2(across, along)/deg+360, 360)
	}
	return math.NaN(), math.NaN()
}
