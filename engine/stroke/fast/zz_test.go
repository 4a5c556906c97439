package fast
import ("testing";"fmt";"math";"time";"thole/engine/stroke/general";"thole/engine/stroke/problem";"thole/engine/stroke/problem/problemtest")
func TestZZ(t *testing.T){
 p := problemtest.OpenCase(t,"1x_flexible_speed")
 exact := new(problem.Solution)
 if f := new(general.Route).Row(&p,&problem.Settings{Route:problem.General,Rtol:1e-12,Residual:1e-11},exact); f!=nil {t.Fatal(f)}
 for level := range gridCount {
  var f Route
  if err:=f.prepare(&p);err!=nil{t.Fatal(err)}
  x,j := f.guess(), f.typical()
  if !f.approach(level,&x,&j,1e-6) { fmt.Println("no way in", level); continue }
  r0:=f.rhs
  rr,ok := f.settle(level,&x,&j,pair{},1e-11)
  fmt.Println(level, ok, rr, f.rhs, f.rhs-r0, len(f.grid.width), f.grid.width)
  s:=new(problem.Solution)
  book:=f.book()
  f.fill(s,&book,0)
  for _,c := range problemtest.Tolerances { a,b:=c.Of(s),c.Of(exact); m:=math.Abs(a/b-1); if m>1e-9 {fmt.Printf("  %s %.1e", c.Name,m)} }
  fmt.Printf("\n closure %.1e est %.2e\n", book.Closure(), f.estimate())
  t0:=time.Now()
  for range 2000 { f.row(level,x) }
  fmt.Println("row", time.Since(t0)/2000)
  t0=time.Now()
  for range 2000 { f.fill(s,&book,0) }
  fmt.Println("fill", time.Since(t0)/2000)
  t0=time.Now()
  for range 1000 { f.bent.over=nil; f.row(level,x) }
  fmt.Println("fresh row", time.Since(t0)/1000)
 }
}
