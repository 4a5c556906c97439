package lang_test

import (
	"fmt"
	"testing"

	"go.starlark.net/starlark"
	"go.starlark.net/syntax"

	"thole/builtins/lang"
)

// paddle is a thing of the tests: it has fields with units and a method.
type paddle struct{ Length, Inboard float64 }

var paddles = &lang.Type[*paddle]{
	Name: "paddle",
	Fields: []lang.FieldOf[*paddle]{
		{lang.Field{Name: "length", Unit: "cm", Digits: 1}, func(p *paddle) starlark.Value { return lang.Num(p.Length) }},
		{lang.Field{Name: "inboard", Unit: "cm", Digits: 1}, func(p *paddle) starlark.Value { return lang.Num(p.Inboard) }},
	},
	Line: func(p *paddle) string { return fmt.Sprintf("paddle %g / %g cm", p.Length, p.Inboard) },
	Same: func(a, b *paddle) bool { return *a == *b },
}

func init() {
	paddles.Methods = []*lang.Record{changePaddle}
}

var paddleRecord = &lang.Record{
	Name: "paddle", Summary: "a paddle from its lengths", Topic: "things",
	Params: []lang.Param{
		{Name: "length", Unit: "cm", Is: lang.Number, Needed: true, ByName: true, Low: 150, High: 450, Usual: []lang.Usual{{Low: 281, High: 293}}, Help: "handle end to blade end"},
		{Name: "inboard", Unit: "cm", Is: lang.Number, Default: 88.0, ByName: true, Low: 50, High: 150, Help: "handle end to the collar face"},
		{Name: "shape", Is: lang.Text, Default: "hatchet", ByName: true, Choices: []string{"hatchet", "tulip"}, Help: "shape of the blade"},
	},
	Gives:   ".length .inboard .change()",
	Example: `paddle(length=288)`,
	Do: func(c *lang.Call) (starlark.Value, error) {
		p := &paddle{c.Number("length"), c.Number("inboard")}
		if p.Inboard >= p.Length {
			return nil, c.Wrong("inboard", lang.NoAnswer("the inboard is part of the length", "inboard=88", "the inboard, %g cm, is longer than the paddle", p.Inboard))
		}
		return paddles.New(p), nil
	},
}

var changePaddle = &lang.Record{
	Name: "change", Of: "paddle", Summary: "a copy with other lengths",
	Params: []lang.Param{
		{Name: "length", Unit: "cm", Is: lang.Number, ByName: true, Low: 150, High: 450},
		{Name: "inboard", Unit: "cm", Is: lang.Number, ByName: true, Low: 50, High: 150},
	},
	Do: func(c *lang.Call) (starlark.Value, error) {
		old, _ := paddles.From(c.Receiver)
		p := *old
		if c.Given("length") {
			p.Length = c.Number("length")
		}
		if c.Given("inboard") {
			p.Inboard = c.Number("inboard")
		}
		return paddles.New(&p), nil
	},
}

func library() *lang.Library {
	l := &lang.Library{Records: []*lang.Record{paddleRecord}, Things: []lang.ThingDoc{paddles.Doc()}}
	return l.Seal()
}

func eval(t *testing.T, expr string) (starlark.Value, error) {
	t.Helper()
	return starlark.EvalOptions(&syntax.FileOptions{}, &starlark.Thread{}, "t.star", expr, library().Predeclared())
}

func TestCallMakesThing(t *testing.T) {
	v, err := eval(t, `paddle(length=289).change(inboard=87.5).length`)
	if err != nil || v.String() != "289" {
		t.Fatalf("got %v, %v", v, err)
	}
}

func TestMessagesOfTheBinder(t *testing.T) {
	for _, c := range []struct{ expr, what, why, typ string }{
		{`paddle(length=2.89)`, "length 2.89 cm is outside 150 to 450", "lengths are typed in centimetres, bare; 2.89 looks like metres", "length=289"},
		{`paddle(length=2880)`, "length 2880 cm is outside 150 to 450", "lengths are typed in centimetres, bare; 2880 looks like millimetres", "length=288"},
		{`paddle(length=113.4)`, "length 113.4 cm is outside 150 to 450", "lengths are typed in centimetres, bare; 113.4 looks like inches", "length=288"},
		{`paddle(length=600)`, "length 600 cm is outside 150 to 450", "handle end to blade end; usual 281 to 293", "length=293"},
		{`paddle(lenght=288)`, `paddle has no "lenght"`, "paddle takes length, inboard and shape", "length=288"},
		{`paddle(inboard=88)`, "paddle needs length", "length is handle end to blade end, in cm; usual 281 to 293", "paddle(length=288)"},
		{`paddle(length=None)`, "length of paddle is a blank here", "a blank (None) is what a column holds where there was no value, or a function without return gives", "t.complete() for the lines without blanks, or: if x != None"},
		{`paddle(288)`, "paddle takes no values without a name, not 1", "the others go by name: length, inboard and shape", "length=288"},
		{`paddle(length="288 cm")`, "length of paddle takes a number, not a text", "numbers are typed bare, without quotes and unit", "length=288"},
		{`paddle(length=288, shape="tulp")`, `paddle knows no shape "tulp"`, `shape is "hatchet" or "tulip"`, `shape="tulip"`},
		{`paddle(length=288).lenth`, `a paddle has no "lenth"`, "the nearest name is length", ".length"},
	} {
		_, err := eval(t, c.expr)
		e := lang.AsError(err)
		if e == nil {
			t.Errorf("%s: no message, but %v", c.expr, err)
			continue
		}
		if e.What != c.what || e.Why != c.why || e.Type != c.typ {
			t.Errorf("%s\nwhat %s\nwhy  %s\ntype %s\nwant\nwhat %s\nwhy  %s\ntype %s", c.expr, e.What, e.Why, e.Type, c.what, c.why, c.typ)
		}
	}
}
