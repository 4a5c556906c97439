package rowing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/things"
	"thole/builtins/units"
	"thole/engine/rigging"
	"thole/engine/rounding"
	"thole/engine/stroke"
)

// changeStroke is stroke.change: row again, some of its arguments replaced. In another
// rig the crew keeps the reach it was measured with, on this stroke's oar and rig.

var collarParam = lang.Param{Name: "collar", Is: lang.Text, ByName: true, Choices: []string{"stays",
	"follows"},
	Help: "with rig=: follows moves the collar by what the pins move, so that the overlap is kept"}

var changeStroke = func() *lang.Record {
	r := things.ChangeRecord("stroke", rowRecord, []lang.Param{collarParam}, nil, nil)
	r.Summary = "rows again with some values replaced; takes what row takes"
	r.Notes = []string{"oar= with another inboard: the hands keep the reach they had in this stroke, so " +
		"catch " +
		"and finish follow; measured_on=None keeps the angles instead",
		"oar= or rig= as a list that changes some seats and not others: every rower pulls as hard as " +
			"before (hold=\"power\" holds each one's power instead)",
		"rig= moves catch and finish by what stretcher and slides move the body against " +
			"the pins, the hands' reach kept; span and spread act with collar=\"follows\""}
	r.Errors = []string{"a rig for a stroke that has none: its angles were measured on none",
		"collar= without rig="}
	r.Do = changeStrokeDo
	return r
}()

func changeStrokeDo(c *lang.Call) (starlark.Value, error) {
	s, _ := StrokeType.From(c.Receiver)
	v, err := s.changed(c)
	if now, ok := StrokeType.From(v); ok {
		now.before = s
	}
	return v, err
}

func (s *Stroke) changed(c *lang.Call) (starlark.Value, error) {
	g := s.Given.With(c, rowRecord).Without(collarParam.Name)
	moves := c.Given("rig") && !c.IsNone("rig")
	if c.Given("collar") && !moves {
		return nil, c.Wrong("collar", lang.Mistake("the collar follows the pins of another rig",
			"rig=..., too", "collar= goes with rig="))
	}
	if s.reachGoesOn(c, g) {
		g = g.And("measured_on", s.oarsValue())
	}
	if s.effortGoesOn(c) {
		g = g.And("hold", starlark.String(stroke.Effort.String())).And("target", StrokeType.New(s))
		account.KeptEffort(c)
	}
	if !moves {
		return g.Make(c, rowRecord)
	}
	if s.Rig == nil {
		return nil, c.Wrong("rig",
			lang.Mistake("its angles were measured on no rig, so it cannot feel another",
				"rig=... in row, with the rig the angles were measured on; then .change(rig=)",
				"this stroke has no rig to change"))
	}
	if !g.Has("measured_rig") {
		g = g.And("measured_rig", s.rigsValue())
	}
	if !g.Has("measured_on") && !c.Given("measured_on") {
		g = g.And("measured_on", s.oarsValue())
	}
	if c.Text("collar") == "follows" {
		if c.Given("oar") {
			return nil, c.Wrong("collar",
				lang.Mistake("the collar that follows is this stroke's own: another oar brings its own "+
					"inboard", "oar= or collar=\"follows\"",
					"oar= and collar=\"follows\" do not go together"))
		}
		oars, err := s.followed(c)
		if err != nil {
			return nil, err
		}
		g = g.Without("oar").And("oar", oars)
	}
	v, err := g.Make(c, rowRecord)
	if err != nil {
		return nil, err
	}
	if now, _ := StrokeType.From(v); !c.Given("collar") && s.pinsMoved(now) && s.collarsStayed(now) {
		lang.HostOf(c.Thread).Caution(c.Thread, lang.Caution{
			Text: "the pins moved and the collars stayed: the overlap changes, the stroke does not",
			Why: "span and spread act when the collar follows them; with oar= first move the pins, then " +
				"change the oar of what that gives", Type: `.change(rig=..., collar="follows")`,
			Key: "collar stays", Arg: "rig"})
	}
	return v, nil
}

// reachGoesOn says whether a changed oar is rowed with the hands' reach of this stroke:
// unless the call or the stroke says where the angles were measured. Sculls say nothing of
// a sweep oar's angles, and a list of oars nothing of a boat with other seats.
func (s *Stroke) reachGoesOn(c *lang.Call, g things.Given) bool {
	if !c.Given("oar") || c.IsNone("oar") || c.Given("measured_on") || g.Has("measured_on") {
		return false
	}
	for _, v := range c.Items("oar") {
		if o, ok := things.OarType.From(v); !ok || o.Kind() != s.Oars[0].Kind() {
			return false
		}
	}
	return len(s.Oars) == 1 || !c.Given("hull")
}

// rigsValue is the stroke's rigs as row takes them: one, or one a seat.
func (s *Stroke) rigsValue() starlark.Value { return listed(s.Rigs, things.RigType) }

// oarsValue is the stroke's oars as row takes them.
func (s *Stroke) oarsValue() starlark.Value { return listed(s.Oars, things.OarType) }

func listed[T any](xs []T, kind *lang.Type[T]) starlark.Value {
	if len(xs) == 1 {
		return kind.New(xs[0])
	}
	var items starlark.Tuple
	for _, x := range xs {
		items = append(items, kind.New(x))
	}
	return items
}

// followed gives the stroke's oars with the inboard that follows the call's rig: one, or
// one a seat where oars or rigs are.
func (s *Stroke) followed(c *lang.Call) (starlark.Value, error) {
	rigs, err := perSeat(c, "rig", s.Hull.Seats(), things.RigType)
	if err != nil {
		return nil, err
	}
	n := max(len(rigs), len(s.Oars), len(s.Rigs))
	var items starlark.Tuple
	for i := range n {
		o, was, now := s.Oar(i), s.RigOf(i), rigs[min(i, len(rigs)-1)]
		if math.IsNaN(now.PinLine(o.Kind())) {
			return nil, c.Wrong("rig", lang.Mistake("pins are measured as this boat's are",
				"rig("+pinsName(o)+
					"=...)", "this rig has no %s", pinsName(o)))
		}
		v, err := withInboard(c, o, rigging.FollowCollar(o.Oar, &was.Rig, &now.Rig).Inboard/units.Cm)
		if err != nil {
			return nil, err
		}
		items = append(items, v)
	}
	if n == 1 {
		return items[0], nil
	}
	return items, nil
}

// withInboard makes the oar again with another inboard [cm], so that its window and
// cautions hold; its shaft keeps the stiffness it was made with.
func withInboard(c *lang.Call, o *things.Oar, inboard float64) (starlark.Value, error) {
	v, err := o.Given.Without("inboard").And("inboard", lang.Num(rounding.Clean(inboard))).Make(c,
		things.OarRecord)
	if err != nil {
		return nil, err
	}
	if made, _ := things.OarType.From(v); made.Flexible() {
		made.Made = o.Made
	}
	return v, nil
}

// collarsStayed says whether no oar of now has another inboard than the stroke's.
func (s *Stroke) collarsStayed(now *Stroke) bool {
	for i := range s.Hull.Seats() {
		if s.Oar(i).Inboard != now.Oar(i).Inboard {
			return false
		}
	}
	return true
}

// pinsMoved says whether any pin of now stands elsewhere than the stroke's.
func (s *Stroke) pinsMoved(now *Stroke) bool {
	for i := range max(len(s.Rigs), len(now.Rigs)) {
		kind := s.Oar(i).Kind()
		if s.RigOf(i).PinLine(kind) != now.RigOf(i).PinLine(kind) {
			return true
		}
	}
	return false
}
