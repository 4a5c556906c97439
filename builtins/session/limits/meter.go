package limits

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"runtime/metrics"
	"sync"
	"sync/atomic"

	"go.starlark.net/starlark"

	"thole/builtins/lang"
)

// A thread looks up every so many steps: whether the study must stop, and how
// much memory it holds.
const stepsBetweenLooks = 20_000

// bytesBetweenLooks is how much may be made by single operations before memory
// is looked at.
const bytesBetweenLooks = 32 << 20

// meter holds a study within its limits of memory.
type Meter struct {
	Limits  Limits
	ctx     context.Context // done when the study must stop
	made    atomic.Int64    // bytes made by large operations since the last look
	printed atomic.Int64    // characters printed
	over    atomic.Bool     // the heap limit was reached
	base    uint64          // heap in use before the study
	gcAt    atomic.Uint64   // heap in use at which garbage is collected again
	looked  sync.Mutex
}

// newMeter makes the meter of a study.
func New(ctx context.Context, l Limits) *Meter { return &Meter{Limits: l.filled(), ctx: ctx} }

// begin starts a new stretch of work.
func (m *Meter) Begin(ctx context.Context) {
	m.ctx = ctx
	m.over.Store(false)
	m.printed.Store(0)
}

// weighBase notes what is in use before a study: what an earlier run left must
// not count as this one's.
func (m *Meter) WeighBase() {
	runtime.GC()
	m.base = heapInUse()
}

// exceeded tells whether the limit of memory was reached.
func (m *Meter) Exceeded(err error) bool { return errors.Is(err, ErrMemory) || m.over.Load() }

const meterKey = "thole.meter"

// meterOf gives the meter of the study that a thread runs.
func meterOf(t *starlark.Thread) *Meter { return t.Local(meterKey).(*Meter) }

// watch makes a thread stop when the study must.
func (m *Meter) Watch(t *starlark.Thread) {
	t.SetLocal(meterKey, m)
	t.SetMaxExecutionSteps(stepsBetweenLooks)
	t.OnMaxSteps = func(t *starlark.Thread) {
		t.SetMaxExecutionSteps(t.ExecutionSteps() + stepsBetweenLooks)
		if m.ctx.Err() != nil || !m.Enough() {
			t.Cancel("stop")
		}
	}
}

var heapMetric = "/memory/classes/heap/objects:bytes"

func heapInUse() uint64 {
	sample := []metrics.Sample{{Name: heapMetric}}
	metrics.Read(sample)
	if sample[0].Value.Kind() != metrics.KindUint64 {
		return 0
	}
	return sample[0].Value.Uint64()
}

// Enough tells whether the study still holds less than the limit. Garbage does
// not count: it is collected before the limit is called reached.
func (m *Meter) Enough() bool {
	limit := m.Limits.Heap
	if m.over.Load() {
		return false
	}
	if heapInUse() <= max(m.base+limit, m.gcAt.Load()) {
		return true
	}
	m.looked.Lock()
	defer m.looked.Unlock()
	runtime.GC()
	if live := heapInUse(); live <= m.base+limit {
		// collecting at every look would cost more than the study itself
		m.gcAt.Store(live + limit/2)
		return true
	}
	m.over.Store(true)
	return false
}

// make counts bytes that one operation makes and looks at the heap now and then.
func (m *Meter) make(bytes int) error {
	if bytes < 4096 {
		return nil
	}
	if m.made.Add(int64(bytes)) < bytesBetweenLooks {
		return nil
	}
	m.made.Store(0)
	if m.ctx.Err() != nil {
		return m.ctx.Err()
	}
	if !m.Enough() {
		return ErrMemory
	}
	return nil
}

// ErrMemory is the end of work that would have held more than the limit of memory.
var ErrMemory = errors.New("memory limit")

// Check refuses a value larger than the limits: "list" counts items, "text"
// bytes.
func (m *Meter) Check(what string, n int) error {
	if what == "text" {
		if n > m.Limits.Text {
			return lang.Mistake(fmt.Sprintf("a text may have %s characters", Grouped(m.Limits.Text)),
				"a shorter text", "this text would have %s characters", Grouped(n))
		}
		return m.make(n)
	}
	if n > m.Limits.Items {
		return lang.Mistake(fmt.Sprintf("a %s may have %s of them", what, Grouped(m.Limits.Items)),
			"fewer of them: a wider step, or a shorter axis",
			"this %s would have %s elements", what, Grouped(n))
	}
	return m.make(16 * n)
}

// grouped writes a large number so that it can be read: "2 million", "34.4 billion".
func Grouped(n int) string {
	switch {
	case n >= 1_000_000_000:
		return TrimZero(fmt.Sprintf("%.1f", float64(n)/1e9)) + " billion"
	case n >= 1_000_000:
		return TrimZero(fmt.Sprintf("%.1f", float64(n)/1e6)) + " million"
	}
	return fmt.Sprint(n)
}

func TrimZero(s string) string {
	if len(s) > 2 && s[len(s)-2:] == ".0" {
		return s[:len(s)-2]
	}
	return s
}
