package line

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// CriticalPath asks in which order so many people do a list of jobs, how long it takes, and which
// jobs must not be late:
//
//	f_i = s_i + p_i
//	s_i is the latest f_j of the jobs before it and of the job that each of its people did before, 0 if there is none
//	T = max(f_i)
//	T_0 is proven: no order of these jobs, each with its k_i of the P people, takes less
//	c_i = l_i - f_i, with l_i the earliest of T and of s_j + c_j of the jobs that wait for it or for its people
//
// with p_i the time of a job and k_i the people that it takes from start to end. People are alike, and
// whoever is free first starts. A job that takes nobody, such as a proofer that runs empty, starts as
// soon as it may. A job is not broken off.
//
// With as many people as the jobs take together it is the critical path method; with fewer, the shortest
// of all orders is looked for. The search is exact: it ends with T = T_0 unless it would take more than
// 5,000 steps, and then the condition not-proven is set. Lists of up to 10 jobs are proven, and most of 30 with two people.
//
// It is refused if:
//   - jobs wait for one another in a circle, or for one that there is not,
//   - a job takes more people than there are.
//
// Source: J. E. Kelley and M. R. Walker, Critical-Path Planning and Scheduling, Proc. Eastern Joint
// Computer Conference (1959) 160 (the critical path, recalled); J. H. Patterson and others, in R. Slowinski and J. Weglarz,
// Advances in Project Scheduling (1989) 3 (the tree of starts that the search goes down, recalled); cases in
// testdata/cases/line/critical-path.json.
type CriticalPath struct {
	Jobs   []Job `json:"jobs" items:"1..60"`           // what is to be done
	People int   `json:"people" sym:"P" range:"1..10"` // people who do it
}

// Job is one piece of work.
type Job struct {
	Name   string        `json:"name"`                                      // what it is, each name once
	Time   unit.Duration `json:"time" sym:"p_#" range:"1 s..24 h"`          // how long it takes
	People int           `json:"people,omitzero" sym:"k_#,0" range:"0..10"` // people that it takes from start to end; leave out for a wait that takes nobody
	After  []string      `json:"after,omitzero" items:"0..60"`              // jobs that must be done before it starts; leave out if it may start at once
}

// JobTime is when a job is done, and by whom.
type JobTime struct {
	Name     string        `json:"name"`            // of the job
	Start    unit.Duration `json:"start" sym:"s_#"` // from the start of the first
	End      unit.Duration `json:"end" sym:"f_#"`   // when it is done
	Slack    unit.Duration `json:"slack" sym:"c_#"` // how late it may be without holding up the end, with the same people at the same jobs
	Critical bool          `json:"critical"`        // true if it may not be late at all
	Who      []int         `json:"who,omitzero"`    // the people, numbered from 1; left out if it takes nobody
}

// CriticalPathResult is the order of the work.
type CriticalPathResult struct {
	Total      unit.Duration `json:"total" sym:"T"`   // from the first start to the last end
	Least      unit.Duration `json:"least" sym:"T_0"` // no order takes less; the same if the shortest was found
	Jobs       []JobTime     `json:"jobs"`            // one for each job, in the order given
	Conditions Conditions    `json:"conditions"`      // not-proven
}

// mostJobs bounds the list: a set of jobs fits into 64 bits.
const mostJobs = 60

func (CriticalPath) ID() string { return "critical-path" }

func (q CriticalPath) Check(c *reckon.Checks) {
	switch n := len(q.Jobs); {
	case n == 0:
		c.Fail("jobs", "empty", "1 to 60 jobs")
	case !reckon.CheckItems(c, "jobs", n, mostJobs):
		return
	}
	people := reckon.CheckCount(c, "people", q.People, 1, mostPeople)
	known := true
	for i := range q.Jobs {
		mark := c.Mark()
		known = q.checkJob(c, i, people) && known
		c.Item(mark, "jobs", i)
	}
	if known {
		q.checkCircle(c)
	}
}

// checkJob reports whether all that the job waits for is known.
func (q *CriticalPath) checkJob(c *reckon.Checks, i int, people bool) bool {
	j := &q.Jobs[i]
	if j.Name == "" || q.job(j.Name) < i {
		c.Fail("name", strconv.Quote(unit.Clip(j.Name)), "a name, each once")
	}
	reckon.CheckRange(c, "time", j.Time, shortest, longest)
	if j.People != 0 && reckon.CheckCount(c, "people", j.People, 0, mostPeople) && people && j.People > q.People {
		c.Fail("people", strconv.Itoa(j.People), "no more than there are, "+strconv.Itoa(q.People))
	}
	if !reckon.CheckItems(c, "after", len(j.After), mostJobs) {
		return false
	}
	known := true
	for a, name := range j.After {
		if q.job(name) < 0 {
			c.Fail("after["+strconv.Itoa(a)+"]", strconv.Quote(unit.Clip(name)), "the name of one of the jobs")
			known = false
		}
	}
	return known
}

// job returns the index of the job with that name, or -1.
func (q *CriticalPath) job(name string) int {
	return slices.IndexFunc(q.Jobs, func(j Job) bool { return j.Name == name })
}

// checkCircle refuses jobs that wait for one another.
func (q *CriticalPath) checkCircle(c *reckon.Checks) {
	var done uint64
	for range q.Jobs {
		for i := range q.Jobs {
			if done>>i&1 == 0 && !slices.ContainsFunc(q.Jobs[i].After, func(name string) bool { return done>>q.job(name)&1 == 0 }) {
				done |= 1 << i
			}
		}
	}
	var circle []string
	for i := range q.Jobs {
		if done>>i&1 == 0 {
			circle = append(circle, strconv.Quote(unit.Clip(q.Jobs[i].Name)))
		}
	}
	if len(circle) > 0 {
		c.Fail("jobs", strings.Join(circle, ", "), "jobs that do not wait for one another in a circle, as these do or wait for some that do")
	}
}

func (q CriticalPath) Solve() (CriticalPathResult, error) { return q.Append(nil) }

// Append is Solve with the times of the jobs appended to dst.
func (q CriticalPath) Append(dst []JobTime) (out CriticalPathResult, err error) {
	c := reckon.Checks{Func: q.ID()}
	if q.Check(&c); !c.OK() {
		return out, c.Err()
	}
	s := search{people: q.People}
	for i := range q.Jobs {
		j := &q.Jobs[i]
		var after uint64
		for _, name := range j.After {
			after |= 1 << q.job(name)
		}
		s.add(j.Time, j.People, after)
	}
	out.Total, out.Least = s.run()
	if out.Least < out.Total {
		out.Conditions |= NotProven
	}
	for i := range q.Jobs {
		dst = append(dst, JobTime{Name: q.Jobs[i].Name})
	}
	out.Jobs = dst
	s.hand(dst[len(dst)-len(q.Jobs):])
	return out, nil
}

func (q CriticalPath) Show(w *reckon.Working, out CriticalPathResult) {
	w.Inputs(q)
	jobs := out.Jobs[len(out.Jobs)-len(q.Jobs):]
	order := make([]int, len(jobs))
	for i := range order {
		order[i] = i
	}
	byStart(order, jobs)
	waits := make([][]int, len(jobs)) // the jobs that wait for each
	all := "f_1"
	for _, i := range order {
		n, start := strconv.Itoa(i+1), "0"
		for a, j := range q.waitsFor(jobs, i) {
			waits[j] = append(waits[j], i)
			if end := "f_" + strconv.Itoa(j+1); a == 0 {
				start = end
			} else {
				start = "max(" + start + ", " + end + ")"
			}
		}
		w.Step(jobs[i].Name+", start", "s_"+n, start, float64(jobs[i].Start), "s", "what it and its people wait for")
		w.Step(jobs[i].Name+", end", "f_"+n, "s_"+n+" + p_"+n, float64(jobs[i].End), "s", "")
		if i > 0 {
			all = "max(" + all + ", f_" + n + ")"
		}
	}
	w.Step("end of all", "T", all, float64(out.Total), "s", "")
	if out.Least == out.Total {
		w.Step("no order takes less than", "T_0", "T", float64(out.Least), "s", "proven by the search")
	} else {
		w.Given("no order takes less than", "T_0", float64(out.Least), "s", "as far as the search went")
	}
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		latest := "T"
		for _, j := range waits[i] {
			n := strconv.Itoa(j + 1)
			latest = "min(" + latest + ", s_" + n + " + c_" + n + ")"
		}
		n := strconv.Itoa(i + 1)
		w.Step(jobs[i].Name+", slack", "c_"+n, latest+" - f_"+n, float64(jobs[i].Slack), "s", "")
	}
}

// byStart puts jobs into the order in which they start: whatever a job waits for has ended when it starts, and so
// starts before it.
func byStart(order []int, jobs []JobTime) {
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(jobs[a].Start, jobs[b].Start) })
}

// waitsFor lists the jobs whose end a job waits for: those named and those that its people did before.
func (q *CriticalPath) waitsFor(jobs []JobTime, i int) []int {
	var list []int
	for _, name := range q.Jobs[i].After {
		list = append(list, q.job(name))
	}
	for _, who := range jobs[i].Who {
		if j := earlier(jobs, i, who); j >= 0 && !slices.Contains(list, j) {
			list = append(list, j)
		}
	}
	return list
}

// earlier returns the job that a person did just before job i, or -1.
func earlier(jobs []JobTime, i, who int) int {
	found := -1
	for j := range jobs {
		if jobs[j].Start < jobs[i].Start && slices.Contains(jobs[j].Who, who) && (found < 0 || jobs[found].Start < jobs[j].Start) {
			found = j
		}
	}
	return found
}
