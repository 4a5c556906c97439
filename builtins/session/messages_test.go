package session

import (
	"strings"
	"testing"
)

// quad is the study of the mock-ups, with room for one bad line.
const quadHead = `
otters = crew(mass=78, power=360, rate=36, name="Otters")
sculls = oar(length=289, inboard=87.5, blade="scull hatchet")
today = row(hull("4x"), otters, sculls, name="today")
def rowed(outboard): return today.change(oar=sculls.change(outboard=outboard))
`

func TestMessages(t *testing.T) {
	for _, c := range []struct{ name, file, text, want string }{
		{"window", "quad.star", "\n\nsculls = oar(length=2.89, inboard=87.5, blade=\"scull hatchet\")\n", `
quad.star:3:21: length 2.89 cm is outside 150 to 450
   3 | sculls = oar(length=2.89, inboard=87.5, blade="scull hatchet")
                           ^^^^
why   lengths are typed in centimetres, bare; 2.89 looks like metres
type  length=289
`},
		{"unknown name", "quad.star", quadHead + "\n\n\nt = very(rowed, outboard=steps(192, 206, 1))\n", `
quad.star:9:5: nothing is called "very"
   9 | t = very(rowed, outboard=steps(192, 206, 1))
           ^^^^
why   the nearest name is vary: it rows one thing over many values
type  vary(rowed, outboard=steps(192, 206, 1))
`},
		{"unknown parameter", "quad.star", "\notters = crew(mass=78, pwr=360, rate=36, name=\"Otters\")\n", `
quad.star:2:24: crew has no "pwr"
   2 | otters = crew(mass=78, pwr=360, rate=36, name="Otters")
                              ^^^
why   crew takes mass, power, rate, seats, cox and name
type  power=360
`},
		{"power", "drag.star", "\n\n\ndef f(v):\n    drag = 3.2 * v ** 2\n    return drag\n", `
drag.star:5:20: two stars make no power here
   5 |     drag = 3.2 * v ** 2
                          ^^
why   powers are written out, or math.pow(v, 2)
type  3.2 * v * v
`},
		{"f-text", "quad.star", quadHead + `answer(f"Outboard {top.outboard}")`, `
quad.star:6:8: a text needs no f in front
   6 | answer(f"Outboard {top.outboard}")
              ^^
why   whatever is told fills its {names} by itself
type  answer("Outboard {top.outboard}")
`},
		{"import", "quad.star", "import math\n", `
quad.star:1:1: nothing has to be imported
   1 | import math
       ^^^^^^
why   math and every name of the tool are there; your own files come with load
type  load("club.star", "our_quad"), or take the line out
`},
		{"from import", "quad.star", "from math import sqrt\n", `
quad.star:1:1: nothing has to be imported
   1 | from math import sqrt
       ^^^^
why   math and every name of the tool are there; your own files come with load
type  load("club.star", "our_quad"), or take the line out
`},
		{"while", "quad.star", quadHead + "t = vary(rowed, outboard=steps(192, 206))\nspeed = 4\nwhile speed < 5.02:\n    speed += 1\n", `
quad.star:8:1: there is no while
   8 | while speed < 5.02:
       ^^^^^
why   a study must end by itself: for repeats, find searches
type  find(rowed, of="speed", target=5.02, outboard=(192, 206))
`},
		{"chained", "quad.star", "top = 3\nif 198 <= top <= 202:\n    pass\n", `
quad.star:2:15: one comparison at a time
   2 | if 198 <= top <= 202:
                     ^^
why   two of them are joined with and
type  if 198 <= top and top <= 202:
`},
		{"given twice", "quad.star", quadHead + `sculls = oar(length=287, inboard=87.5, blade="scull hatchet")`, `
quad.star:6:1: sculls was given in line 3
   6 | sculls = oar(length=287, inboard=87.5, blade="scull hatchet")
       ^^^^^^
why   a study gives a name once, so that every line means one thing
type  sculls_2 = oar(length=287, inboard=87.5, blade="scull hatchet")
`},
		{"tool's name", "quad.star", "\n\noar = oar(length=289, inboard=87.5, blade=\"scull hatchet\")\n", `
quad.star:3:1: oar is the tool's own name
   3 | oar = oar(length=289, inboard=87.5, blade="scull hatchet")
       ^^^
why   oar makes oars; after this line it could not make another
type  my_oar = oar(length=289, inboard=87.5, blade="scull hatchet")
`},
		{"three names", "lesson.star", quadHead + "usual = today\nlonger = usuel.change(oar=sculls)\nplot_curve(usual, longer)\nanswer(fil(\"{x:1 cm}\", x=3))\n", `
lesson.star: 3 names that neither the study nor the tool knows
   7:10 | longer = usuel.change(oar=sculls) -> usual
   8:1  | plot_curve(usual, longer) -> plot_curves
   9:8  | answer(fil("{x:1 cm}", x=3)) -> fill
why   a name has to be given above the line that uses it
type  usual, plot_curves, fill
`},
		{"no stroke", "single.star", "me = crew(mass=84, power=380, rate=32)\nsculls = oar(length=288, inboard=88)\nslow = row(hull(\"1x\"), crew(mass=84, power=180, rate=38), sculls)\n", `
single.star:3:8: the drive would take 1.30 s of a 1.58 s stroke
   3 | slow = row(hull("1x"), crew(mass=84, power=180, rate=38), sculls)
              ^^^
why   82 % leaves 0.28 s to come forward; a fifth, 0.32 s, is the least
type  rate=37 (drive 79 %) or power=190 (80 %)
`},
		{"later", "quad.star", quadHead + "find(rowed, target=3)\n", `
quad.star:6:1: this version of thole does not have find yet
   6 | find(rowed, target=3)
       ^^^^
why   it belongs to the language, but comes with a later version
type  thole version, and a newer thole
`},
		{"place", "a_outboard.star", quadHead + "top = today\n" + `answer("An outboard of {tpo.outboard} on it.")` + "\n", `
a_outboard.star:7:25: no name for the place {tpo.outboard}
   7 | answer("An outboard of {tpo.outboard} on it.")
                               ^^^
why   a text is filled from the study's own names; the nearest is top
type  {top.outboard}
`},
		{"None", "q.star", "x = None\nif x is not None:\n    pass\n", `
q.star:2:6: is compares nothing here
   2 | if x is not None:
            ^^
why   two values are compared with ==, a blank with == None
type  x != None
`},
		{"recursion", "q.star", "def f(n): return f(n - 1)\nx = f(3)\n", `
q.star:1:18: f calls itself
   1 | def f(n): return f(n - 1)
                        ^
from  line 2: f(3)
why   a function may not come back to itself: a study must end; for repeats, find searches
type  for i in range(100): ... in place of the call
`},
		{"try", "q.star", "try:\n    x = 1\nexcept:\n    pass\n", `
q.star:1:1: there is no try
   1 | try:
       ^^^
why   a line that may fail goes into a function, and attempt calls it
type  value, reason = attempt(lambda: row(...))
`},
		{"class", "q.star", "class Crew:\n    pass\n", `
q.star:1:1: there are no classes
   1 | class Crew:
       ^^^^^
why   a dict holds values under names, a def makes them
type  sculler = {"mass": 84, "power": 380}
`},
		{"text plus number", "q.star", quadHead + `note("speed " + today.speed)`, `
q.star:6:15: a text and a number cannot be added
   6 | note("speed " + today.speed)
                     ^
why   a told text fills its {names} by itself; elsewhere fmt makes a text of a number
type  "speed " + fmt(today.speed)
`},
		{"boat", "quad.star", "today = hull(\"4xx\")\n", `
quad.star:1:14: hull knows no boat "4xx"
   1 | today = hull("4xx")
                    ^^^^^
why   boat is "1x", "2x", "2-", "2+", "4x", "4-", "4+" or "8+"
type  hull("4x")
`},
		{"field of a place", "quad.star", quadHead + "answer(\"now {today.sped:1}\")\n", `
quad.star:6:14: a stroke has no "sped"
   6 | answer("now {today.sped:1}")
                    ^^^^^^^^^^
why   the nearest name is speed
type  .speed
`},
		{"used too early", "q.star", "x = y\ny = 3\n", `
q.star:1:5: y has no value yet
   1 | x = y
           ^
why   it is given further down, in line 2
type  line 2 above this one
`},
		{"own function, input missing", "q.star", "def f(a, b): return a\nx = f(1)\n", `
q.star:2:5: f needs b
   2 | x = f(1)
           ^
why   these inputs of it have no = in its def, so each call has to give them
type  b=...
`},
		{"own function, unknown input", "q.star", "def f(a, wide=3): return a\nx = f(1, wid=3)\n", `
q.star:2:10: f has no input "wid"
   2 | x = f(1, wid=3)
                ^^^
why   the nearest input of its def is wide
type  wide=...
`},
		{"signs", "q.star", "a = 1\nx = a && a\n", `
q.star:2:7: two conditions are joined with and
`},
		{"choice", "q.star", "x = 5 if True\n", `
q.star:1:7: a choice needs its else
`},
		{"order", "q.star", "x = sorted([1, \"a\"])\n", `
q.star:1:5: a text and a number cannot be compared
   1 | x = sorted([1, "a"])
           ^^^^^^
why   sorted puts values in order, and only values of a kind have one
type  a list of one kind, without blanks; or key=lambda x: ...
`},
		{"kept word", "q.star", "x = 1\nclass = 3\n", `
q.star:2:1: class cannot be a name
   2 | class = 3
       ^^^^^
why   the grammar keeps this word for itself
type  my_class = ...
`},
		{"boat's word", "quad.star", "\notters, sculls = 1, 2\n\ntoday = row(hull(\"quad\"), otters, sculls)\n", `
quad.star:4:18: hull knows no boat "quad"
   4 | today = row(hull("quad"), otters, sculls)
                        ^^^^^^
why   boats are 1x 2x 2- 2+ 4x 4- 4+ 8+; four scullers are a 4x
type  hull("4x")
`},
		{"field", "quad.star", quadHead + "show(today.sped)\n", `
quad.star:6:12: a stroke has no "sped"
   6 | show(today.sped)
                  ^^^^
why   the nearest name is speed
type  .speed
`},
		{"column", "quad.star", quadHead + "t = vary(rowed, outboard=[200, 201])\nshow(t[\"sped\"])\n", `
quad.star:7:8: the table has no column "sped"
   7 | show(t["sped"])
              ^^^^^^
why   its columns are outboard, value, reason
type  outboard
`},
		{"inside vary", "quad.star", quadHead + "def f(outboard):\n    note(\"x\")\n    return 1\nt = vary(f, outboard=[200, 201])\n", `
quad.star:7:5: note cannot be called inside this function
   7 |     note("x")
           ^^^^
from  line 9: vary(f, outboard=[200, 201])
why   vary calls it many times and in any order, so it may not tell
type  give the value back with return, and note(...) after vary
`},
		{"fixed list", "quad.star", "seen = []\ndef f(outboard):\n    seen.append(outboard)\n    return 1\nt = vary(f, outboard=[200, 201])\n", `
quad.star:3:10: this list or dict is fixed by now
   3 |     seen.append(outboard)
                ^^^^^^
`},
		{"unknown input", "quad.star", quadHead + "t = vary(rowed, outbord=[200, 201])\n", `
quad.star:6:17: rowed has no input "outbord"
   6 | t = vary(rowed, outbord=[200, 201])
                       ^^^^^^^
why   its inputs are outboard
type  outboard=...
`},
		{"fault of the tool", "quad.star", "burst()\n", `
quad.star:1:1: burst went wrong inside
   1 | burst()
       ^^^^^
why   this is a fault of thole, not of the study
type  the same line without its last change; and report it with the study
`},
		{"unclosed bracket", "quad.star", "x = (1 +\ny = 2\n", `
quad.star:1:5: this bracket is never closed
   1 | x = (1 +
           ^
why   what follows was read as belonging to it
type  x = (1 +)
`},
		{"empty", "quad.star", "# nothing yet\n", `
quad.star: this study is empty
why   there is no line in it that does something
type  thole new NAME --like sweep   for one to start on
`},
		{"tells nothing", "quad.star", quadHead, `
quad.star: this study tells nothing
why   its lines ran well, but none shows a value or gives an answer
type  answer("...") or show(...) as the last line
`},
		{"no text", "quad.star", "x = 1\n\xff\xfe\x00", `
quad.star:2: this file is no text
why   a study is plain text in UTF-8; this looks like a picture, a spreadsheet or another kind of file
type  save it as plain text (UTF-8), named .star or .md
`},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := run(t, c.file, c.text)
			var got []string
			for _, m := range o.Errors {
				got = append(got, m.String())
			}
			text := strings.Join(got, "")
			want := strings.TrimPrefix(c.want, "\n")
			if text != want && !(strings.Count(want, "\n") < 4 && strings.HasPrefix(text, want) &&
				want != "") {
				t.Errorf("got\n%s\nwant\n%s", text, want)
			}
		})
	}
}
