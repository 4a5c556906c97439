package rowing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/engine/table"
	"thole/engine/words"
)

// The least changes of load that are told: what the digits of a card would show.
const (
	leastHeaviness = 0.0005 // of the heaviness before
	leastDrive     = 0.0005 // s
)

// seatLoad is what one seat's hands and back bear: how heavy, and how long.
type seatLoad struct{ heaviness, drive float64 }

// loads gives the load of every seat, bow first.
func (s *Stroke) loads() []seatLoad {
	out := make([]seatLoad, s.Hull.Seats())
	for i := range out {
		at := min(i, len(s.Stroke.Seats)-1)
		out[i] = seatLoad{s.Heaviness(at), s.Stroke.Seats[at].DriveTime}
	}
	return out
}

// LoadChange is how the load of those in a boat who need care differs from that in another.
type LoadChange struct {
	Text    string  // "seat 2 (junior) 5.0 % heavier, drive 0.030 s longer", rises first; "" for none
	Rises   bool    // anyone's does
	Heavier float64 // the largest rise of heaviness, a share
	Longer  float64 // the largest rise of drive time, s
}

// Over says whether a change is told before another: any rise before any fall, then the
// heavier.
func (l LoadChange) Over(m LoadChange) bool {
	switch {
	case m.Text == "" || l.Text == "":
		return l.Text != ""
	case l.Rises != m.Rises:
		return l.Rises
	case l.Heavier != m.Heavier:
		return l.Heavier > m.Heavier
	}
	return l.Longer > m.Longer
}

// LoadAgainst says how the load of those in the boat who need care differs from that in
// before, seat by seat. Nothing is told where nobody needs care, the boats have other
// seats, or nothing changes.
func (s *Stroke) LoadAgainst(before *Stroke) (l LoadChange) {
	was, now := before.loads(), s.loads()
	if len(was) != len(now) {
		return l
	}
	l.Heavier, l.Longer = math.Inf(-1), math.Inf(-1)
	apart := len(s.Crew.Rowers) > 1 || s.unlike() || before.unlike()
	type line struct {
		said, who string
		seats     []string
		heavier   bool
	}
	var lines []*line
	for i := range now {
		who := s.Crew.Rowers[min(i, len(s.Crew.Rowers)-1)].Category()
		if !account.Careful(who) {
			continue
		}
		said, heavier := loadChange(was[i], now[i])
		if said == "" {
			continue
		}
		l.Heavier = max(l.Heavier, now[i].heaviness/was[i].heaviness-1)
		l.Longer = max(l.Longer, now[i].drive-was[i].drive)
		if who == account.NotSaid {
			who = "category not said"
		}
		same := slices.IndexFunc(lines, func(x *line) bool { return x.said == said && x.who == who })
		if same < 0 {
			same = len(lines)
			lines = append(lines, &line{said: said, who: who, heavier: heavier})
		}
		lines[same].seats = append(lines[same].seats, strconv.Itoa(i+1))
	}
	var more, less []string
	for _, x := range lines {
		text := x.who
		switch {
		case apart:
			text = words.Plural(len(x.seats), "seat") + " " + words.List(x.seats) + " (" + x.who + ")"
		case len(now) > 1:
			text = "each seat (" + x.who + ")"
		case x.who == "category not said":
			text = "rower (" + x.who + ")"
		}
		if text += " " + x.said; x.heavier {
			more = append(more, text)
		} else {
			less = append(less, text)
		}
	}
	l.Text, l.Rises = strings.Join(append(more, less...), "; "), len(more) > 0
	return l
}

// loadChange says how one seat's load changed; heavier where either face of it rises.
func loadChange(was, now seatLoad) (said string, heavier bool) {
	share, longer := now.heaviness/was.heaviness-1, now.drive-was.drive
	if math.Abs(share) < leastHeaviness && math.Abs(longer) < leastDrive {
		return "", false
	}
	parts := []string{"as heavy", "drive as long"}
	if math.Abs(share) >= leastHeaviness {
		parts[0] = table.Fixed(100*math.Abs(share), 1) + " % " + either(share > 0, "heavier", "lighter")
	}
	if math.Abs(longer) >= leastDrive {
		parts[1] = "drive " + table.Fixed(math.Abs(longer), 3) + " s " +
			either(longer > 0, "longer", "shorter")
	}
	return strings.Join(parts, ", "), share >= leastHeaviness || longer >= leastDrive
}

func either(which bool, yes, no string) string {
	if which {
		return yes
	}
	return no
}

// TellLoad notes for the first line of the result how the load of those who need care
// differs between two strokes that are compared.
func TellLoad(book *account.Book, before, after *Stroke, beforeName, afterName string) {
	if l := after.LoadAgainst(before); l.Text != "" {
		book.NoteLoad(before, after, "Load, "+afterName+" against "+beforeName+": "+l.Text, l.Rises)
	}
}

// TellOwnLoad notes how the load of a stroke that is shown by itself differs from that of
// the stroke it was changed from.
func TellOwnLoad(book *account.Book, v starlark.Value) {
	s, ok := StrokeType.From(v)
	if !ok || s.before == nil {
		return
	}
	name := s.Name
	if name == "" || name == s.before.Name {
		name = "as changed"
	}
	TellLoad(book, s.before, s, s.before.Called("the stroke before"), name)
}

// Called is a stroke's name, or what it is called for want of one.
func (s *Stroke) Called(otherwise string) string {
	if s.Name == "" {
		return otherwise
	}
	return s.Name
}

// Before is the stroke that it was changed from, nil for none.
func (s *Stroke) Before() *Stroke { return s.before }
