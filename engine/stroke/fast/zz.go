package fast
import ("fmt";"thole/engine/stroke/problem";"thole/engine/stroke/problem/problemtest")
func Levels(p *problem.Problem, exact *problem.Solution) {
 for level := range gridCount {
  var f Route
  if err:=f.prepare(p);err!=nil{panic(err)}
  x,j := f.guess(), f.typical()
  if !f.approach(level,&x,&j,1e-6) { fmt.Println("no way in", level); continue }
  rr,ok := f.settle(level,&x,&j,pair{},1e-11)
  s:=new(problem.Solution)
  book:=f.book()
  f.fill(s,&book,0)
  fmt.Println(level, ok, rr, f.rhs, len(f.grid.width), f.kinked())
  for _,c := range problemtest.Tolerances { a,b:=c.Of(s),c.Of(exact); m:=a/b-1; if m>1e-8||m< -1e-8 {fmt.Printf("  %s %.1e", c.Name,m)} }
  fmt.Printf("\n closure %.1e est %.2e\n", book.Closure(), f.estimate())
 }
}

func Stats(p *problem.Problem, exact *problem.Solution, handed bool) {
 out := ""
 for level := range 3 {
  var f Route
  if err:=f.prepare(p);err!=nil{panic(err)}
  x,j := f.guess(), f.typical()
  if !f.approach(level,&x,&j,1e-6) { out += " noway"; continue }
  _,ok := f.settle(level,&x,&j,pair{},1e-10)
  s:=new(problem.Solution)
  book:=f.book()
  f.fill(s,&book,0)
  worst, name := 0.0, ""
  for _,c := range problemtest.Tolerances { a,b:=c.Of(s),c.Of(exact); m:=a/b-1; if m<0 {m=-m}; m/=c.Tolerance; if m>worst {worst,name=m,c.Name} }
  out += fmt.Sprintf(" | %d %v est %.1e worst %.2g %s cl %.0e", len(f.grid.width), ok, f.estimate(), worst, name, book.Closure())
 }
 s := &p.Seats[0]

 {
  var f Route
  f.prepare(p)
  x,j := f.guess(), f.typical()
  f.approach(1,&x,&j,1e-6)
  f.row(1,x)
  fmt.Printf("swing %.3f bury %.3f: ", swing(f.stiff), root(f.seat.Water.Bury/f.seat.Arc))
  sig := 0.0
  for i := range f.bent.steps {
    all := f.bent.steps
    f.bent.steps = all[i:i+1]
    fmt.Printf("%.3f:%.0e (%.2f) ", sig, f.estimateBent(), all[i].start[1])
    f.bent.steps = all
    sig += f.grid.width[i]
  }
  fmt.Println()
 }
 fmt.Printf("%v defl %.3f v0 %.1f early %.1f style %s kind %v law %v kink%s\n", handed, s.Oar.Deflection, s.Rower.FreeSpeed, s.Oar.Blade.AddedMass, s.Rower.Style.Name, s.Oar.Blade.Kind, p.Hold, out)
}
