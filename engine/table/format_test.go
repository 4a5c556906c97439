package table

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestNumbersAsTheTradeWritesThem(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Fixed(5.0374, 3), "5.037"},
		{Fixed(2.675, 2), "2.68"}, // half away from zero, as written
		{Fixed(-2.675, 2), "-2.68"},
		{Fixed(-0.0004, 3), "0.000"},
		{Fixed(1234567, 0), "1234567"},
		{Fixed(math.NaN(), 1), ""},
		{Signed(0.0394, 3), "+0.039"},
		{Signed(0.0004, 3), "0.000"},
		{Signed(-6.6, 1), "-6.6"},
		{FourFigures(73.3142), "73.31"},
		{FourFigures(820), "820"},
		{FourFigures(0.5), "0.5"},
		{FourFigures(0.00012345), "0.0001235"},
		{FourFigures(123456.7), "123457"},
		{FourFigures(1e12), "1e+12"},
		{Clock(418.26, 1), "6:58.3"},
		{Clock(59.96, 1), "1:00.0"},
		{Clock(116.6, 1), "1:56.6"},
		{Clock(-4.4, 1), "-0:04.4"},
		{Clock(3723.4, 1), "1:02:03.4"},
		{Clock(65, 0), "1:05"},
		{Quantity(5.037, "speed", "m/s", 3), "5.037 m/s"},
		{Quantity(116.6, "split", "s/500 m", 1), "1:56.6 /500 m"},
		{Quantity(466.4, "time_2000", "s", 1), "7:46.4"},
		{Quantity(0.9, "drive_time", "s", 2), "0.90 s"},
		{Chance(0.999), "over 0.99"},
		{Chance(0.17), "0.17"},
		{(&Estimate{Value: -6.6, Low: -7.2, High: -6.2, Unit: "cm", Digits: 1, Signed: true,
			Verdict: "holds: less"}).String(), "-6.6 cm (95 % -7.2 to -6.2): holds: less"},
		{(&Estimate{Value: 0.0394, Low: 0.0381, High: 0.0418, Unit: "m/s", Digits: 3, Signed: true,
			Verdict: "holds: more"}).String(), "+0.039 m/s (95 % +0.038 to +0.042): holds: more"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestColumnsAreShownSoThatLinesDiffer(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name string
		col  Column
		want []string
	}{
		{"whole numbers", Column{Digits: 1, Nums: []float64{199, 200, nan}}, []string{"199", "200", ""}},
		{"as the quantity is", Column{Digits: 3, Nums: []float64{5.0374, 5.0318}},
			[]string{"5.037", "5.032"}},
		{"nearly equal: one more", Column{Digits: 2, Nums: []float64{0.8062, 0.8071, 0.8093}},
			[]string{"0.806", "0.807", "0.809"}},
		{"wide apart: no more", Column{Digits: 2, Nums: []float64{0.8062, 0.8071, 0.9993}},
			[]string{"0.81", "0.81", "1.00"}},
		{"never over three", Column{Digits: 3, Nums: []float64{5.03741, 5.03742}},
			[]string{"5.037", "5.037"}},
		{"equal is equal", Column{Digits: 2, Nums: []float64{0.81, 0.81}}, []string{"0.81", "0.81"}},
		{"bare numbers in a row", Column{Digits: AutoDigits, Nums: []float64{1.5, 0.12345, 20}},
			[]string{"1.50", "0.12", "20.00"}},
		{"bare numbers that end", Column{Digits: AutoDigits, Nums: []float64{1.5, 2}},
			[]string{"1.5", "2.0"}},
		{"changes", Column{Digits: 1, Signed: true, Nums: []float64{0.94, -13.6, 0}},
			[]string{"+0.9", "-13.6", "0.0"}},
		{"unlike quantities", Column{Digits: AutoDigits, Places: []int{1, 3}, Nums: []float64{200, 4.237}},
			[]string{"200.0", "4.237"}},
		{"texts", Column{Kind: Text, Texts: []string{"A", ""}}, []string{"A", ""}},
	} {
		if diff := cmp.Diff(c.want, c.col.Shown()); diff != "" {
			t.Errorf("%s: %s", c.name, diff)
		}
	}
}

func TestHeading(t *testing.T) {
	for _, c := range []struct {
		text, name, unit string
		bracketed        bool
	}{
		{"speed (m/s)", "speed", "m/s", true},
		{"blade length (cm)", "blade_length", "cm", true},
		{"count (-)", "count", "", true},
		{"crew", "crew", "", false},
		{"heaviness last year (Ns/m)", "heaviness_last_year", "N·s/m", true},
		{"area (cm2)", "area", "cm²", true},
	} {
		name, unit, bracketed := Heading(c.text)
		if name != c.name || unit != c.unit || bracketed != c.bracketed {
			t.Errorf("%q: %q %q %v", c.text, name, unit, bracketed)
		}
	}
}

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		x        float64
		from, to string
		want     float64
	}{
		{2, "m", "cm", 200}, {2.87, "m", "cm", 287}, {8, "dm2", "cm²", 800}, {8.1, "dm²", "cm2", 810},
		{18, "km/h", "m/s", 5}, {1.5, "min", "s", 90}, {0.36, "kW", "W", 360}, {78500, "g", "kg", 78.5},
		{10, "in", "cm", 25.4}, {45, "°", "deg", 45}, {32, "spm", "1/min", 32}, {12, "C", "°C", 12},
	} {
		got, err := Convert(c.x, c.from, c.to)
		if err != nil || got != c.want {
			t.Errorf("%v %s is %v %s, %v; want %v", c.x, c.from, got, c.to, err, c.want)
		}
	}
	for _, c := range []struct{ from, to, what string }{
		{"kg", "cm", "kg is not cm"}, {"furlong", "cm", `"furlong" is no unit of ours`},
		{"cm", "", "a bare number is wanted, not cm"},
	} {
		if _, err := Convert(1, c.from, c.to); err == nil || err.Error() != c.what {
			t.Errorf("%s to %s: %v", c.from, c.to, err)
		}
	}
	for _, c := range []struct {
		text  string
		value float64
		unit  string
	}{
		{"200", 200, ""}, {"2.00m", 2, "m"}, {"8 dm2", 8, "dm²"}, {"-4", -4, ""}, {"1:56.6", 116.6, "s"},
		{"1e3W", 1000, "W"}, {"2 %", 2, "%"}, {".5", 0.5, ""},
	} {
		value, unit, err := ParseQuantity(c.text)
		if err != nil || value != c.value || unit != c.unit {
			t.Errorf("%q is %v %q, %v", c.text, value, unit, err)
		}
	}
	for _, text := range []string{"", "m", "1,5", "1:99", "nan", "--1", "1:2:3:4"} {
		if _, _, err := ParseQuantity(text); err == nil {
			t.Errorf("%q was read as a quantity", text)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"mass", "power", "rate", "outboard", "blade_length", "area_now"}
	for typed, want := range map[string]string{"pwr": "power", "outbaord": "outboard", "Mass": "mass",
		"area": "area_now", "length": "blade_length", "xyz": "", "weight": ""} {
		if got := Nearest(typed, names); got != want {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}
