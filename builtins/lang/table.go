package lang

import (
	"go.starlark.net/starlark"

	"thole/engine/table"
)

// Table is a table as a script value. It cannot change: every operation gives
// a new one.
type Table struct{ T *table.Table }

// NewTable makes the script value of a table, which must not change any more.
func NewTable(t *table.Table) *Table { return &Table{T: t} }

func (t *Table) String() string        { return "table" }
func (t *Table) Type() string          { return "table" }
func (t *Table) Freeze()               {}
func (t *Table) Truth() starlark.Bool  { return t.T.Len() > 0 }
func (t *Table) Hash() (uint32, error) { return starlark.String("table").Hash() }
