package rowing

import (
	"math"

	"go.starlark.net/starlark"

	"thole/builtins/account"
	"thole/builtins/lang"
)

// machineWatts is what a rowing machine's display makes of a pace: watts times the cube of
// seconds for a metre.
const machineWatts = 2.80

var machinePower = &lang.Record{
	Name: "machine_power", Topic: "doing",
	Summary: "a rowing machine's watts for its pace over 500 m: power at the handle",
	Params: []lang.Param{{Name: "split", Unit: "s/500 m", Is: lang.Number, Needed: true, Low: 60, High: 300,
		Help: "seconds for 500 m on the machine's display"}},
	Gives: "watts for crew(handle_power=) and rower(handle_power=): a rower's own power is more, for the " +
		"body " +
		"moves too",
	Notes: []string{"watts and pace of a display are one number said twice, 2.80 / (s per m)³; they are " +
		"handle power, never power"},
	Example: `row(hull("1x"), crew(mass=84, handle_power=machine_power(105), rate=32), sculls)`,
	Sources: []string{"2.80 W / (s per m)³: from memory, sure; common to displays"},
	Do: func(c *lang.Call) (starlark.Value, error) {
		watts := machineWatts / math.Pow(c.Number("split")/500, 3)
		account.Machine(c, watts)
		return starlark.Float(watts), nil
	},
}
