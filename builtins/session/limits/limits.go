package limits

// Limits hold a study in bounds. Zero fields take DefaultLimits'.
type Limits struct {
	Seconds float64 // wall time, for the message only: the caller's context ends the run
	Heap    uint64  // bytes in use by all that the study holds
	Items   int     // elements of one list, table or range
	Text    int     // bytes of one text
}

// DefaultLimits hold any study that a person would write.
var Default = Limits{Seconds: 600, Heap: 1 << 30, Items: 2_000_000, Text: 16 << 20}

func (l Limits) filled() Limits {
	d := Default
	if l.Seconds > 0 {
		d.Seconds = l.Seconds
	}
	if l.Heap > 0 {
		d.Heap = l.Heap
	}
	if l.Items > 0 {
		d.Items = l.Items
	}
	if l.Text > 0 {
		d.Text = l.Text
	}
	return d
}
