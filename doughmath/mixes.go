package doughmath

// FinalMix is the name of the last mix, to which the preferments are added.
const FinalMix = "final mix"

// mostPreferments bounds the mixes of one dough, so that they are sorted without a heap.
const mostPreferments = 16

// mixGraph says which mix goes into which.
type mixGraph struct {
	n     int
	use   [mostPreferments][mostPreferments]float64 // use[k][j]: how much of mix j goes into mix k
	order [mostPreferments]int                      // mixes, each after those that go into it
	state [mostPreferments]int8                     // 0 not seen, 1 on the way, 2 in order
	done  int
	loop  int // a mix that contains itself, by way of others, if sort returned false
}

// sort fills order, and returns false if a mix contains itself.
func (g *mixGraph) sort() bool {
	for k := range g.n {
		if !g.visit(k) {
			return false
		}
	}
	return true
}

func (g *mixGraph) visit(k int) bool {
	switch g.state[k] {
	case 1:
		g.loop = k
		return false
	case 2:
		return true
	}
	g.state[k] = 1
	for j := range g.n {
		if g.use[k][j] > 0 && !g.visit(j) {
			return false
		}
	}
	g.state[k] = 2
	g.order[g.done] = k
	g.done++
	return true
}
