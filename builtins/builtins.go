// Package builtins joins all that a script can call into one library, and runs
// studies with it. Start with Library and Run.
//
// What the functions do lies in rooms by what a caller looks for: things, rowing,
// asking, telling, data, trials. Each room lists its functions as records
// (package lang), from which binding, checks, help, completion and the reference
// are made. The prompt's own words (help, facts, undo, keep) stand here, for they
// speak of the whole library.
//
// Numbers of a record are in the trade's units and become SI things in the rooms
// by the constants of package units, nowhere else; results become the trade's
// units in the one table of result fields (engine/stroke).
package builtins

import (
	"sync"

	"go.starlark.net/starlark"

	"thole/builtins/asking"
	"thole/builtins/data"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/builtins/telling"
	"thole/builtins/things"
	"thole/builtins/trials"
	"thole/builtins/weighing"
)

// library is made once: records hold no state of a run.
var library = sync.OnceValue(func() *lang.Library {
	l := &lang.Library{Values: starlark.StringDict{"math": lang.Math}, Fields: rowing.FieldDocs(),
		Synonym: synonyms, Later: later, Renamed: renamed}
	for _, topic := range [][]*lang.Record{
		things.Records(), rowing.Records(), asking.Records(), weighing.Records(), telling.Records(),
		data.Records(),
		trials.Records(), promptRecords(),
	} {
		l.Records = append(l.Records, topic...)
	}
	for _, kinds := range [][]lang.ThingDoc{things.Docs(), rowing.Docs(), data.Docs(), trials.Docs(),
		{lang.TableDoc(), lang.EstimateDoc()}} {
		l.Things = append(l.Things, kinds...)
	}
	l.Topics = topics
	l.Pages = append(modelPages(), sourcePages()...)
	return l.Seal()
})

// Library gives every word of the language, tied together and checked.
func Library() *lang.Library { return library() }

// synonyms are words people try for a name of the language.
var synonyms = map[string]string{
	"boat": "hull", "shell": "hull", "simulate": "row", "scull": "oar", "sculls": "oar", "rigger": "rig",
	"athlete": "rower", "sweep": "vary", "optimise": "find_best", "optimize": "find_best", "solve": "find",
	"chart": "plot", "graph": "plot", "display": "show", "write": "note", "warn": "caution",
	"warning": "caution",
	"format":  "fmt", "avg": "mean", "average": "mean", "range_of": "steps", "linspace": "steps",
	"save": "keep",
}

// renamed are names of older versions and what does their work now: the one table that
// messages and check --rename read. A dot stands between the owner and its parameter or field;
// owner.parameter=text is a value that has left the parameter.
var renamed = map[string]lang.Renamed{
	"hull.drag_factor": {Name: "class_factor", Beyond: "a rowing machine's drag factor is its fan's and " +
		"slows no boat; hull's class_factor is a share near 1"},
	"stroke.stroke_length":  {Name: "distance_per_stroke"},
	"trial_plan.difference": {Name: "worthwhile"},
	"blade.law=perfect":     {Field: `change(law="perfect")`},
	"lever_ratio":           {Name: "gearing", Field: "lever"},
	"spread_ratio":          {Name: "gearing", Field: "spread"},
	"survey_ratio":          {Name: "gearing", Field: "survey"},
	"effective_ratio":       {Name: "gearing", Field: "effective"},
}

// later are names of the language that this version does not have yet.
var later = []string{}
