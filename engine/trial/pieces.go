package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"thole/engine/table"
)

// The columns of a table of pieces, as ReadTrial gives it and Judge takes it.
// Those after time are optional; a blank cell is a piece without that reading.
//
//	piece     number in the order rowed
//	setting   name, text
//	distance  m, over the ground
//	time      s
//	rate      1/min
//	wind      m/s, positive ahead
//	power     W
//	stream    m/s, positive with the boat
//	water     °C
//	way       text, "out" or "back"
//	remarks   text, kept, never judged
var (
	// time is text in a file: three notations
	neededColumns   = []string{"piece (-)", "setting", "distance (m)", "time"}
	optionalColumns = []string{"rate (1/min)", "wind (m/s)", "power (W)", "stream (m/s)", "water (°C)", "way",
		"remarks"}
)

// A piece slower or faster than these is a slip of the pen: an eight at the best
// time of record does 6.3 m/s, a beginner's single 2 m/s.
const (
	slowest = 1.0 // m/s
	fastest = 8.0 // m/s
)

// row is one piece, NaN or "" where there is no reading.
type row struct {
	number                           float64
	setting                          string
	distance, time                   float64
	rate, wind, power, stream, water float64
	way                              string
	line                             int // in the table, from 0
}

// ReadTrial reads the sheet of a morning, a CSV. Times are understood as 1:52.3,
// 112.3 and 0:01:52,3. The notes say how the file was read. An error is a
// *table.Error with the place in the file.
func ReadTrial(file string, data []byte) (*table.Table, []string, error) {
	t, notes, err := table.ReadCSV(file, data, neededColumns, optionalColumns, "a trial")
	if err != nil {
		return nil, nil, err
	}
	written := t.Column("time")
	times := table.NewColumn("time", "s", table.Number)
	for i, text := range written.Texts {
		seconds, err := parseTime(text)
		if err != nil {
			return nil, nil, inFile(err.(*table.Error), t, i, text, file, data)
		}
		times.Nums = append(times.Nums, seconds)
	}
	for j, c := range t.Columns {
		if c == written {
			t.Columns[j] = times
		}
	}
	// from here on a missing time is a piece that was broken off: rowsOf says so
	if _, err := rowsOf(t); err != nil {
		if e, ok := err.(*pieceError); ok {
			return nil, nil, inFile(&e.fault, t, e.row, e.cell, file, data)
		}
		return nil, nil, err
	}
	return t, notes, nil
}

// parseTime reads a time in seconds: 112.3 or 112,3, 1:52.3, 0:01:52,3.
func parseTime(text string) (float64, error) {
	wrong := func(why string) error {
		return &table.Error{What: fmt.Sprintf("%q is no time", text), Why: why, Type: "1:52.3 or 112.3"}
	}
	text = strings.TrimSpace(text)
	if text == "" {
		return math.NaN(), nil
	}
	if strings.Count(text, ",")+strings.Count(text, ".") > 1 {
		return 0, wrong("one mark stands before the tenths, and : between minutes and seconds")
	}
	parts := strings.Split(strings.Replace(text, ",", ".", 1), ":")
	if len(parts) > 3 {
		return 0, wrong("at most hours, minutes and seconds are read")
	}
	seconds := 0.0
	for i, p := range parts {
		last := i == len(parts)-1
		var v float64
		var rest string
		if n, _ := fmt.Sscanf(p+" ", "%g%s", &v, &rest); n != 1 || strings.ContainsAny(p, "+-eExXnN_ ") ||
			!last && strings.Contains(p, ".") {
			return 0, wrong("minutes and seconds are written 1:52.3")
		}
		if i > 0 && v >= 60 {
			return 0, wrong(fmt.Sprintf("%s behind a : is over a minute", p))
		}
		seconds = seconds*60 + v
	}
	return seconds, nil
}

// pieceError is a mistake in one cell of a table of pieces.
type pieceError struct {
	fault table.Error
	row   int
	cell  string // as written, to be found in the file's line
}

func (e *pieceError) Error() string { return e.fault.What }

// rowsOf checks a table of pieces and gives its rows in the order rowed.
func rowsOf(t *table.Table) ([]row, error) {
	for _, heading := range neededColumns {
		name, _, _ := table.Heading(heading)
		if t.Column(name) == nil {
			return nil, &table.Error{What: fmt.Sprintf("the pieces have no column %q", name),
				Why:  "a trial needs piece, setting, distance (m) and time (s)",
				Type: "pieces = read_trial(\"saturday.csv\")"}
		}
	}
	number := func(name string, i int) float64 {
		if c := t.Column(name); c != nil && c.Kind == table.Number {
			return c.Nums[i]
		}
		return math.NaN()
	}
	text := func(name string, i int) string {
		if c := t.Column(name); c != nil && c.Kind == table.Text {
			return strings.TrimSpace(c.Texts[i])
		}
		return ""
	}
	if t.Len() > mostPieces {
		return nil, &table.Error{What: fmt.Sprintf("%d pieces are more than anybody rows", t.Len()),
			Why: fmt.Sprintf("at most %d are judged", mostPieces), Type: "the pieces of one trial"}
	}
	var rows []row
	lineOf := map[float64]int{}
	spelled := map[string]string{} // "Short " is short: the spelling met first stands
	for i := range t.Len() {
		r := row{line: i, number: number("piece", i), setting: text("setting", i),
			distance: number("distance", i), time: number("time", i),
			rate: number("rate", i), wind: number("wind", i), power: number("power", i),
			stream: number("stream", i), water: number("water", i),
			way: strings.ToLower(text("way", i))}
		if err := r.check(); err != nil {
			return nil, err
		}
		if before, twice := lineOf[r.number]; twice {
			return nil, r.wrong(short(r.number), fmt.Sprintf("piece %s stands twice", short(r.number)),
				fmt.Sprintf("lines %d and %d both are piece %s, and the order counts", before+1, i+1,
					short(r.number)), "each piece's number once, in the order rowed")
		}
		lineOf[r.number] = i
		if first, met := spelled[strings.ToLower(r.setting)]; met {
			r.setting = first
		} else {
			spelled[strings.ToLower(r.setting)] = r.setting
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		return nil, &table.Error{What: "there are no pieces", Why: "the table has no lines",
			Type: "a line for each piece rowed"}
	}
	slices.SortFunc(rows, func(a, b row) int {
		if a.number < b.number {
			return -1
		}
		return 1
	})
	return rows, nil
}

// check finds what cannot be.
func (r row) check() error {
	name := fmt.Sprintf("piece %s", short(r.number))
	switch speed := r.distance / r.time; {
	case math.IsNaN(r.number):
		return r.wrong("", fmt.Sprintf("line %d has no piece number", r.line+1),
			"the order of the pieces counts: drift and blocks come from it", "1, 2, 3 ... in the order rowed")
	case r.setting == "":
		return r.wrong("", name+" has no setting", "nobody knows with which it was rowed",
			"the setting's name, as in the order of pieces")
	case math.IsNaN(r.distance):
		return r.wrong("", name+" has no distance", "speed is distance over time", "500")
	case math.IsNaN(r.time):
		return r.wrong("", name+" has no time", "a piece that was broken off is left out with its whole line",
			"its time, 1:52.3 or 112.3; or take the line out")
	case r.distance <= 0 || r.time <= 0:
		return r.wrong(short(r.time), name+": distance and time are above zero",
			fmt.Sprintf("%s m in %s s are written", short(r.distance), short(r.time)), "1:52.3 or 112.3")
	case speed < slowest || speed > fastest:
		return r.wrong(short(r.time), fmt.Sprintf("%s: %s m in %s s is %.2f m/s", name, short(r.distance),
			short(r.time), speed),
			fmt.Sprintf("no boat rows a piece below %.0f or over %.0f m/s; minutes and seconds may be mixed "+
				"up", slowest, fastest), "1:52.3 or 112.3, and the distance in metres")
	case r.way != "" && r.way != "out" && r.way != "back":
		return r.wrong(r.way, fmt.Sprintf("%s: way is %q", name, r.way), "a way is out or back", "out")
	}
	return nil
}

func (r row) wrong(cell, what, why, type_ string) error {
	return &pieceError{fault: table.Error{What: what, Why: why, Type: type_}, row: r.line, cell: cell}
}

// inFile adds the place in the file to a mistake in line i of its table.
func inFile(e *table.Error, t *table.Table, i int, cell, file string, data []byte) error {
	placed := *e
	placed.File = file
	if i >= len(t.FileLines) {
		return &placed
	}
	placed.Line = t.FileLines[i]
	lines := strings.Split(strings.ReplaceAll(string(data), "\r\n", "\n"), "\n")
	if placed.Line <= len(lines) {
		placed.Source = strings.TrimPrefix(lines[placed.Line-1], "\ufeff")
	}
	placed.Col, placed.CaretLength = 1, max(len([]rune(placed.Source)), 1)
	if at := strings.Index(placed.Source, cell); cell != "" && at >= 0 {
		placed.Col, placed.CaretLength = len([]rune(placed.Source[:at]))+1, len([]rune(cell))
	}
	return &placed
}
