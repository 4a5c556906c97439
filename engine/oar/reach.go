package oar

import (
	"fmt"
	"math"

	"thole/engine/num"
)

// Along the boat the centre of the pull stands L_in sin θ_c sternward of the line
// through the pins at the catch and L_in sin θ_f bowward of it at the finish (θ_c, θ_f
// magnitudes, rad). Hands that keep their reach keep these two places; another oar only
// says at which angles they lie, and whatever moves the body against the pins (stretcher,
// slides, the pins themselves) moves both places alike.

// KeepReach gives catch and finish [rad, magnitudes] on oar o for hands that
// reached catch and finish on another oar: L_in sin θ is kept at both ends. An
// error where o is too short inboard to reach as far. Equation 1.4.
func KeepReach(measured, o *Oar, catch, finish float64) (c, f float64, err error) {
	return MoveReach(measured, o, catch, finish, 0)
}

// MoveReach is KeepReach with the body moved sternward by moved [m]:
// sin θ_c' = (L sin θ_c + moved)/L', sin θ_f' = (L sin θ_f − moved)/L'. With the same
// lever and nothing moved the angles come back to the last bit. Equation 12.6.
func MoveReach(measured, o *Oar, catch, finish, moved float64) (c, f float64, err error) {
	was, now := measured.Lever(), o.Lever()
	if was == now && moved == 0 {
		return catch, finish, nil
	}
	sc, sf := (float64(was*num.Sin(catch))+moved)/now, (float64(was*num.Sin(finish))-moved)/now
	if 0 < sc && sc < 1 && 0 < sf && sf < 1 {
		return num.Asin(sc), num.Asin(sf), nil
	}
	if moved == 0 {
		return 0, 0, fmt.Errorf("hands that reach %.0f and %.0f deg on an inboard of %.1f cm cannot on "+
			"%.1f cm: "+
			"they would have to pass the square",
			catch*180/math.Pi, finish*180/math.Pi, 100*measured.Inboard, 100*o.Inboard)
	}
	return 0, 0, &OutOfReach{Catch: sc * now, Finish: sf * now, Lever: now}
}

// OutOfReach is the error of a body moved so far that the oar cannot follow the hands.
type OutOfReach struct {
	Catch, Finish float64 // how far from the pins the hands would be, sternward and bowward, m
	Lever         float64 // how far the oar carries them, m
}

func (e *OutOfReach) Error() string {
	switch {
	case e.Catch >= e.Lever:
		return fmt.Sprintf("at the catch the hands would be %.1f cm sternward of the pins, "+
			"and this inboard carries them %.1f cm at most", 100*e.Catch, 100*e.Lever)
	case e.Finish >= e.Lever:
		return fmt.Sprintf("at the finish the hands would be %.1f cm bowward of the pins, "+
			"and this inboard carries them %.1f cm at most", 100*e.Finish, 100*e.Lever)
	case e.Finish <= 0:
		return "at the finish the hands would not come past the pins"
	}
	return "at the catch the hands would not reach sternward of the pins"
}
