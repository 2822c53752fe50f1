package whatif
import ("testing";"context";"sync")
func BenchmarkHalves(b *testing.B){
	for name, s := range map[string]Study{"small":finer(smallStudy(),10),"temperatures":finer(tempStudy(b),10)} {
	c, err := s.Compile(); if err!=nil { b.Fatal(err) }
	b.Run(name, func(b *testing.B){
	for b.Loop() { var wg sync.WaitGroup
		for k := range 2 { wg.Go(func(){ t:=0.0; for r, _ := range c.Rows(context.Background(), Options{First:k*c.Size()/2, Count:c.Size()/2}) { t+=r.Values[len(r.Values)-1] }; sinks[k*16]=t }) }
		wg.Wait() }
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*c.Size()), "ns/scenario")
	}) }
}
var sinks [32]float64
