package stroke
import ("testing";"fmt";"strings";"thole/engine/stroke/fast";"thole/engine/stroke/problem/problemtest";"thole/engine/blade")
func TestYY(t *testing.T){
	r := problemtest.NewRolls(77)
	worst := make([]float64, len(problemtest.Tolerances))
	type c struct{solved, handed, ev int}
	k := map[string]*c{}
	for i := range 4000 {
		p := problemtest.DrawProblem(r, problemtest.WideRange)
		m,_ := p.Merged()
		if len(m.Seats)>1 {continue}
		s := &m.Seats[0]
		name := "rigid"
		if s.Oar.Flexible() { name="bent" } else if s.Oar.Blade.Law==blade.Table {} else {continue}
		if s.Oar.Blade.Law==blade.Table {name += " table"} else if name=="bent" && s.Oar.Blade.Early != 0 {name+=" early"}
		if i%3>-1 && s.Oar.Blade.Law != blade.Table {s.Oar.Blade.Early=0; p.Seats[0].Oar.Blade.Early=0; name = strings.TrimSuffix(name," early")}
		if k[name]==nil {k[name]=&c{}}
		g, err := Row(p, Settings{Route: General, Rtol: 1e-10})
		if err != nil { if _, err := Row(p, Settings{Route: Fast}); err == nil {t.Error("answers")}; continue }
		if !fast.Applies(&m) {continue}
		f, err := Row(p, Settings{Route: Fast})
		if err != nil { k[name].handed++; fmt.Println("handed", s.Rower.FreeSpeed);
		continue }
		k[name].solved++
		k[name].ev += f.Evaluations
		problemtest.Agree(t, p, &f.Solution, &g.Solution, worst)
	}
	for n,v := range k { fmt.Printf("%s %+v\n", n,*v) }
	for i, f := range problemtest.Tolerances {
		fmt.Printf("%s %.1e, ", f.Name, worst[i])
	}
}
