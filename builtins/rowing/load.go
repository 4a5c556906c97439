package rowing

import (
	"fmt"
	"math"
	"strings"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/engine/table"
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
	var more, less []string
	seen := map[string]bool{}
	for i := range now {
		rower := s.Crew.Rowers[min(i, len(s.Crew.Rowers)-1)]
		if !account.Careful(rower.Category()) {
			continue
		}
		said, heavier := loadChange(was[i], now[i])
		if said == "" {
			continue
		}
		who := rower.Category()
		if who == account.NotSaid {
			who = "category not said"
		}
		if len(s.Crew.Rowers) == 1 { // rowers alike, on oars alike: one line stands for all seats
			who = "each seat (" + who + ")"
			if len(now) == 1 {
				who = rower.Category()
				if who == account.NotSaid {
					who = "rower (category not said)"
				}
			}
		}
		if len(s.Crew.Rowers) > 1 || s.unlike() || before.unlike() {
			who = fmt.Sprintf("seat %d (%s)", i+1, strings.TrimSuffix(strings.TrimPrefix(who, "each seat ("),
				")"))
		}
		line := who + " " + said
		switch {
		case seen[line]:
		case heavier:
			more = append(more, line)
		default:
			less = append(less, line)
		}
		seen[line] = true
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
