package builtins

import (
	"strings"
	"testing"
)

// A value of another unit, or a name with a slip, is answered with what was meant.
func TestSlipsOfUnitsAndStyles(t *testing.T) {
	const boat = `row(hull("1x"), crew(mass=84, power=380, rate=32), oar(length=288, inboard=88, blade="scull hatchet"), wind=25)`
	for _, c := range []struct{ text, what, typ string }{
		{`water(temperature=288)`, "temperature 288 °C is outside 0 to 30", "temperature=14.9"},   // kelvin
		{`water(temperature=68)`, "temperature 68 °C is outside 0 to 30", "temperature=20"},       // Fahrenheit
		{`rower(mass=84, power=380, catch=1.1)`, "catch 1.1 deg is outside 15 to 80", "catch=63"}, // radians, 63.03
		{`rower(mass=185, power=380)`, "mass 185 kg is outside 25 to 160", "mass=83.9"},           // pounds, 83.91
		{boat, "wind 25 m/s is outside -20 to 20", "wind=6.94"},                                   // km/h, 6.944
		{`rower(mass=84, power=380, style="erly")`, `no style is called "erly"`, `style="early"`}, // not the default
		{`rower(mass=84, power=380, style="smooth")`, `no style is called "smooth"`, `style="usual"`},
	} {
		out := try(t, "show("+c.text+")\n")
		if len(out.Errors) != 1 {
			t.Errorf("%s: %d errors", c.text, len(out.Errors))
			continue
		}
		if e := out.Errors[0]; e.What != c.what || e.Type != c.typ {
			t.Errorf("%s\nwhat %s\ntype %s\nwant %s\ntype %s", c.text, e.What, e.Type, c.what, c.typ)
		}
	}
}

// What is offered to type keeps the brackets that the source has.
func TestOffersKeepTheirBrackets(t *testing.T) {
	for text, want := range map[string]string{
		`show(a["x"][0] + b["x"][0])`:        `fmt(a["x"][0]) + b["x"][0]`,
		`show(b["x"][0] + len(a["x"][0:2]))`: `b["x"][0] + fmt(len(a["x"][0:2]))`,
	} {
		out := try(t, "a = {\"x\": [1, 2]}\nb = {\"x\": [\"c\"]}\n"+text+"\n")
		if len(out.Errors) != 1 || out.Errors[0].Type != want {
			t.Errorf("%s: %v, want type %s", text, out.Errors, want)
		}
	}
	if out := try(t, `result(" ", 3)`+"\n"); len(out.Errors) != 1 || out.Errors[0].What != "a result without a name" {
		t.Errorf("a result without a name: %v", out.Errors)
	}
}

// Water and squaring that cannot be: a depth less than the boat reaches down, a share
// over 1; a stroke near the speed of the longest waves is rowed and cautioned.
func TestWaterAndSquaringThatCannotBe(t *testing.T) {
	const eight = `row(hull("8+"), crew(mass=84, power=430, rate=36, cox=55), ` +
		`oar(length=376, inboard=114, blade="sweep hatchet"), water=water(depth=%))`
	for _, c := range []struct{ text, what, typ string }{
		{strings.Replace(eight, "%", "0.12", 1),
			"water 0.12 m deep under a boat that reaches 0.20 m down", "water(depth=3.5)"},
		{`crew(mass=84, power=380, rate=32, squaring=1.4)`, "squaring 1.4 is outside 0 to 1", "squaring=1"},
	} {
		out := try(t, "show("+c.text+")\n")
		if len(out.Errors) != 1 || out.Errors[0].What != c.what || out.Errors[0].Type != c.typ {
			t.Errorf("%s: %v\nwant %s\ntype %s", c.text, out.Errors, c.what, c.typ)
		}
	}
	for depth, near := range map[string]bool{"3.2": true, "30": false} { // waves keep up at 5.6 and 17 m/s
		out := try(t, "show("+strings.Replace(eight, "%", depth, 1)+")\n")
		told := false
		for _, caution := range out.Document.Cautions {
			told = told || strings.Contains(caution.Text, "waves in such a depth")
		}
		if len(out.Errors) > 0 || told != near {
			t.Errorf("%s m: cautioned %v, want %v (%v)", depth, told, near, out.Errors)
		}
	}
}
