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

// LoadAgainst says how the load of those in the boat who need care differs from that in
// before, seat by seat, those whose load rises first: "seat 2 (junior) 5.0 % heavier, drive
// 0.03 s longer". It is "" where nobody needs care, the boats have other seats, or nothing
// changes; rises says whether anyone's load does.
func (s *Stroke) LoadAgainst(before *Stroke) (text string, rises bool) {
	was, now := before.loads(), s.loads()
	if len(was) != len(now) {
		return "", false
	}
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
		if who == account.NotSaid {
			who = "category not said"
		}
		same := slices.IndexFunc(lines, func(l *line) bool { return l.said == said && l.who == who })
		if same < 0 {
			same = len(lines)
			lines = append(lines, &line{said: said, who: who, heavier: heavier})
		}
		lines[same].seats = append(lines[same].seats, strconv.Itoa(i+1))
	}
	var more, less []string
	for _, l := range lines {
		text := l.who
		switch {
		case apart:
			text = words.Plural(len(l.seats), "seat") + " " + words.List(l.seats) + " (" + l.who + ")"
		case len(now) > 1:
			text = "each seat (" + l.who + ")"
		case l.who == "category not said":
			text = "rower (" + l.who + ")"
		}
		if text += " " + l.said; l.heavier {
			more = append(more, text)
		} else {
			less = append(less, text)
		}
	}
	return strings.Join(append(more, less...), "; "), len(more) > 0
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
// differs between two strokes that are compared, and gives the line.
func TellLoad(thread *starlark.Thread, before, after *Stroke, beforeName, afterName string) string {
	text, rises := after.LoadAgainst(before)
	if text == "" {
		return ""
	}
	line := "Load, " + afterName + " against " + beforeName + ": " + text
	account.NoteLoad(thread, line, rises)
	return line
}
