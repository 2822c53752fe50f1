package line_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// someJobs makes a list of jobs at random that do not wait in a circle.
func someJobs(r *rand.Rand, n, people int) line.CriticalPath {
	q := line.CriticalPath{People: people}
	for i := range n {
		j := line.Job{Name: fmt.Sprintf("job %d", i), Time: unit.Duration(30 * (1 + r.IntN(20))), People: 1}
		for k := range i {
			if r.IntN(n) < 2 {
				j.After = append(j.After, q.Jobs[k].Name)
			}
		}
		switch {
		case people > 1 && r.IntN(5) == 0:
			j.People = 2
		case r.IntN(8) == 0:
			j.People = 0
		}
		q.Jobs = append(q.Jobs, j)
	}
	return q
}

// holdsTogether checks an answer against what was asked, in another way than it was found: minute by minute.
func holdsTogether(t *testing.T, q line.CriticalPath, out line.CriticalPathResult) {
	t.Helper()
	end := map[string]unit.Duration{}
	var last unit.Duration
	for _, j := range out.Jobs {
		end[j.Name], last = j.End, max(last, j.End)
	}
	assert.Equal(t, last, out.Total)
	assert.LessOrEqual(t, out.Least, out.Total)
	for i, j := range q.Jobs {
		got := out.Jobs[i]
		assert.InDelta(t, float64(j.Time), float64(got.End-got.Start), 1e-6)
		assert.Len(t, got.Who, j.People)
		assert.Equal(t, got.Critical, got.Slack == 0)
		for _, name := range j.After {
			assert.GreaterOrEqual(t, got.Start, end[name], "%s waits for %s", j.Name, name)
		}
		for k, other := range out.Jobs[:i] {
			if slices.ContainsFunc(got.Who, func(p int) bool { return slices.Contains(other.Who, p) }) {
				assert.True(t, got.Start >= other.End || other.Start >= got.End, "%s and %s take the same person at once", j.Name, q.Jobs[k].Name)
			}
		}
		for _, p := range got.Who {
			assert.True(t, p >= 1 && p <= q.People)
		}
	}
}

// shortest tries every order in which jobs may be started, each as early as it fits.
func shortest(q line.CriticalPath) float64 {
	n := len(q.Jobs)
	best := math.Inf(1)
	start := make([]float64, n)
	placed := make([]bool, n)
	index := map[string]int{}
	for i, j := range q.Jobs {
		index[j.Name] = i
	}
	fits := func(i int, at float64) bool {
		// People are counted at every start within the job's time.
		for k := -1; k < n; k++ {
			m := at
			if k >= 0 {
				m = start[k]
			}
			if k >= 0 && (!placed[k] || m < at || m >= at+float64(q.Jobs[i].Time)) {
				continue
			}
			busy := q.Jobs[i].People
			for o := range n {
				if placed[o] && start[o] <= m && m < start[o]+float64(q.Jobs[o].Time) {
					busy += q.Jobs[o].People
				}
			}
			if busy > q.People {
				return false
			}
		}
		return true
	}
	var place func(left int, end float64)
	place = func(left int, end float64) {
		if left == 0 {
			best = min(best, end)
			return
		}
		for i := range n {
			ready := 0.0
			if placed[i] || slices.ContainsFunc(q.Jobs[i].After, func(name string) bool { return !placed[index[name]] }) {
				continue
			}
			for _, name := range q.Jobs[i].After {
				ready = max(ready, start[index[name]]+float64(q.Jobs[index[name]].Time))
			}
			at := math.Inf(1)
			for k := -1; k < n; k++ {
				m := ready
				if k >= 0 {
					m = start[k] + float64(q.Jobs[k].Time)
				}
				if (k < 0 || placed[k] && m > ready) && m < at && fits(i, m) {
					at = m
				}
			}
			start[i], placed[i] = at, true
			place(left-1, max(end, at+float64(q.Jobs[i].Time)))
			placed[i] = false
		}
	}
	place(n, 0)
	return best
}

// The search finds what trying every order finds.
func TestCriticalPathIsTheShortest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 80 {
		people := 1 + r.IntN(3)
		q := someJobs(r, 3+r.IntN(4), people)
		out, err := q.Solve()
		require.NoError(t, err)
		holdsTogether(t, q, out)
		assert.InDelta(t, shortest(q), float64(out.Total), 1e-6, "%+v", q)
		assert.Equal(t, out.Total, out.Least)
	}
}

// So it does where people must idle: beside a stop and a start that all else waits for, with jobs that take everybody, and
// with odd times among round ones. What is proven without trying may be no longer than what trying finds.
func TestCriticalPathWherePeopleIdle(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 60 {
		people := 2 + r.IntN(2)
		q := line.CriticalPath{People: people}
		add := func(people int, after ...int) int {
			j := line.Job{Name: fmt.Sprintf("job %d", len(q.Jobs)), Time: unit.Duration(60 * (1 + r.IntN(5))), People: people}
			if r.IntN(5) == 0 {
				j.Time = 10
			}
			for _, k := range after {
				j.After = append(j.After, q.Jobs[k].Name)
			}
			q.Jobs = append(q.Jobs, j)
			return len(q.Jobs) - 1
		}
		clear := add(0)
		stop := add(1, clear)
		inside := []int{add(1, stop), add(1+r.IntN(2), stop)}
		start := add(1, inside...)
		for range 2 {
			switch r.IntN(3) {
			case 0:
				add(1, start)
			case 1:
				add(people, clear)
			default:
				add(1, clear)
			}
		}
		out, err := q.Solve()
		require.NoError(t, err)
		holdsTogether(t, q, out)
		assert.InDelta(t, shortest(q), float64(out.Total), 1e-6, "%+v", q)
		assert.Equal(t, out.Total, out.Least)
	}
}

// Lists of ten jobs are always proven, whoever many there are; longer ones say so where they are not.
func TestCriticalPathProvesTen(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		q := someJobs(r, 10, 1+r.IntN(3))
		out, err := q.Solve()
		require.NoError(t, err)
		assert.False(t, out.Conditions.Has(line.NotProven))
	}
	proven := 0
	for range 60 {
		q := someJobs(r, 30, 2)
		out, err := q.Solve()
		require.NoError(t, err)
		holdsTogether(t, q, out)
		assert.Equal(t, out.Least < out.Total, out.Conditions.Has(line.NotProven))
		if out.Least == out.Total {
			proven++
		}
	}
	assert.Greater(t, proven, 30, "most lists of thirty jobs for two people are proven")
}

// A job that is late by its slack holds nothing up with the same people at the same jobs; by more, it does.
func TestSlackIsWhatTheEndAllows(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	late := 0
	for range 100 {
		q := someJobs(r, 8, 1+r.IntN(3))
		out, err := q.Solve()
		require.NoError(t, err)
		for i := range q.Jobs {
			for _, more := range []unit.Duration{0, 60} {
				took := endWith(q, out, i, out.Jobs[i].Slack+more)
				assert.InDelta(t, float64(out.Total+more), float64(took), 1e-6, "job %d of %+v", i, q)
			}
			late++
		}
	}
	assert.Positive(t, late)
}

// endWith follows the plan with one job that takes longer: everybody does the same jobs in the same order.
func endWith(q line.CriticalPath, out line.CriticalPathResult, slow int, by unit.Duration) unit.Duration {
	order := make([]int, len(q.Jobs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if out.Jobs[a].Start < out.Jobs[b].Start {
			return -1
		}
		return 1
	})
	end := map[string]unit.Duration{}
	var free [11]unit.Duration
	var last unit.Duration
	for _, i := range order {
		var at unit.Duration
		for _, name := range q.Jobs[i].After {
			at = max(at, end[name])
		}
		for _, p := range out.Jobs[i].Who {
			at = max(at, free[p])
		}
		at += q.Jobs[i].Time
		if i == slow {
			at += by
		}
		end[q.Jobs[i].Name], last = at, max(last, at)
		for _, p := range out.Jobs[i].Who {
			free[p] = at
		}
	}
	return last
}

func TestCriticalPathRefuses(t *testing.T) {
	job := func(name string, after ...string) line.Job {
		return line.Job{Name: name, Time: 60, People: 1, After: after}
	}
	for _, c := range []struct {
		id     string
		q      line.CriticalPath
		fields []string
	}{
		{"nothing", line.CriticalPath{}, []string{"jobs", "people"}},
		{"a circle", line.CriticalPath{Jobs: []line.Job{job("a", "b"), job("b", "c"), job("c", "a"), job("d")}, People: 1}, []string{"jobs"}},
		{"waits for itself", line.CriticalPath{Jobs: []line.Job{job("a", "a")}, People: 1}, []string{"jobs"}},
		{"unknown", line.CriticalPath{Jobs: []line.Job{job("a", "z")}, People: 1}, []string{"jobs[0].after[0]"}},
		{"unknown, and a circle", line.CriticalPath{Jobs: []line.Job{job("a", "z"), job("b", "c"), job("c", "b")}, People: 1}, []string{"jobs[0].after[0]"}},
		{"twice", line.CriticalPath{Jobs: []line.Job{job("a"), job("a")}, People: 1}, []string{"jobs[1].name"}},
		{"too heavy, too short", line.CriticalPath{Jobs: []line.Job{{Name: "a", Time: 0, People: 3}}, People: 2}, []string{"jobs[0].time", "jobs[0].people"}},
	} {
		_, err := c.q.Solve()
		var got []string
		for _, e := range reckon.InputErrors(err) {
			got = append(got, e.Field)
		}
		assert.Equal(t, c.fields, got, c.id)
	}
	_, err := line.CriticalPath{Jobs: []line.Job{job("a", "b"), job("b", "a")}, People: 1}.Solve()
	assert.ErrorContains(t, err, `"a", "b"`, "whoever waits in the circle is named")
}

// Times that share no step, and waits of nobody, are no trouble.
func TestCriticalPathOddTimes(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 60 {
		q := someJobs(r, 6, 2)
		for i := range q.Jobs {
			q.Jobs[i].Time = unit.Duration(1 + 1000*r.Float64())
		}
		out, err := q.Solve()
		require.NoError(t, err)
		holdsTogether(t, q, out)
		assert.InDelta(t, shortest(q), float64(out.Total), 1e-6)
	}
}

func FuzzCriticalPath(f *testing.F) {
	f.Add(uint64(1), 12, 2)
	f.Fuzz(func(t *testing.T, seed uint64, n, people int) {
		r := rand.New(rand.NewPCG(seed, 9))
		q := someJobs(r, 1+abs(n)%20, 1+abs(people)%4)
		out, err := q.Solve()
		require.NoError(t, err)
		holdsTogether(t, q, out)
	})
}

func abs(n int) int { return max(n, -max(n, math.MinInt+1)) }

func BenchmarkCriticalPath(b *testing.B) {
	for _, n := range []int{10, 20, 30} {
		q := someJobs(rand.New(rand.NewPCG(11, uint64(n))), n, 2)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			var out line.CriticalPathResult
			for b.Loop() {
				out, _ = q.Append(out.Jobs[:0])
			}
			if out.Total == 0 {
				b.Fatal("nothing was solved")
			}
		})
	}
}

// One person does one job after the other, in another order than they are listed: none can be late, and the working says so.
func TestOnePersonHasNoSlack(t *testing.T) {
	q := line.CriticalPath{People: 1, Jobs: []line.Job{
		{Name: "wipe", People: 1, Time: 60, After: []string{"unload"}},
		{Name: "unload", People: 1, Time: 120},
		{Name: "sign", People: 1, Time: 30, After: []string{"wipe"}},
		{Name: "sweep", People: 1, Time: 40, After: []string{"unload"}},
	}}
	out, w, err := reckon.Explain(q)
	require.NoError(t, err)
	require.NoError(t, retrace(w))
	assert.Equal(t, unit.Duration(250), out.Total)
	assert.True(t, slices.ContainsFunc(w.Steps, func(s reckon.Step) bool { return s.Symbol == "s_1" && s.Expression == "f_2" }), "it waits for one job, and begins at its end")
	for _, j := range out.Jobs {
		assert.Zero(t, j.Slack, j.Name)
	}
}
