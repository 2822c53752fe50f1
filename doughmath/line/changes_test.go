package line

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Whatever is said of changing over, something is said.
func TestNothingIsSaidOfChangingOver(t *testing.T) {
	assert.True(t, (&Changing{}).none())
	for i, g := range []Changing{{Stop: 1}, {LockOut: 1}, {Guards: 1}, {Start: 1}, {FirstCheck: 1}, {SetAside: 1}, {Tasks: []ChangeTask{}}} {
		assert.False(t, g.none(), "field %d", i)
	}
}

// Parts that come out are out before the drum, and those that go in come behind it, on its machine alone; whichever control stands first on the list.
func TestFittingsAroundADrum(t *testing.T) {
	for _, first := range []bool{false, true} {
		controls := []Control{{Name: "cap", Sets: SetsFitting, Machine: "rounder"}, {Name: "drum", Sets: SetsDrum, Machine: "rounder"}, {Name: "ring", Sets: SetsFitting, Machine: "rounder"}, {Name: "plate", Sets: SetsFitting, Machine: "moulder"}, {Name: "speed", Machine: "rounder"}}
		if first {
			controls[0], controls[1] = controls[1], controls[0]
		}
		b := changes{line: &Line{Controls: controls}, list: []change{{}}}
		for _, k := range controls {
			to := "in"
			if k.Name == "cap" {
				to = "out"
			}
			b.add(change{ChangeStep: ChangeStep{Control: k.Name, Machine: k.Machine, To: to}, name: k.Name})
		}
		b.drums(len(b.list))
		after := map[string]uint64{}
		for _, k := range b.list[1:] {
			after[k.name] = k.after
		}
		assert.Equal(t, map[string]uint64{"cap": 0, "drum": 1 << b.index("cap"), "ring": 1 << b.index("drum"), "plate": 0, "speed": 0}, after)
	}
}

// A task waits for what it names, of what is done; the move of a control waits for its task, unless the task waits for the move. What is not done is
// not waited for.
func TestWhatTasksWaitFor(t *testing.T) {
	l := &Line{Controls: []Control{{Name: "guide"}, {Name: "belt"}, {Name: "knife"}}}
	l.Changing.Tasks = []ChangeTask{
		{Name: "fetch", When: Ahead, For: ForMove, Control: "knife"},
		{Name: "label", When: Ahead, For: ForAlways, After: []string{"fetch", "pile"}},
		{Name: "pile", When: Ahead, For: ForAlways},
		{Name: "clear", For: ForMove, Control: "guide"},
		{Name: "try", For: ForMove, Control: "belt", After: []string{"belt", "clear", "knife"}},
		{Name: "rest", For: ForAlways, After: []string{"clear"}},
	}
	b := changes{line: l, list: []change{{}}}
	for _, name := range []string{"guide", "belt", "clear", "try"} { // 1 to 4; nobody moves the knife, and nobody rests
		b.add(change{name: name, people: 1, ChangeStep: ChangeStep{Time: 60}})
	}
	b.link()
	var after []uint64
	for _, k := range b.list {
		after = append(after, k.after)
	}
	assert.Equal(t, []uint64{0, 1 << 3, 0, 0, 1<<2 | 1<<3}, after)

	// Were the work ahead done behind the clear-out, it would wait for that, and a move for what is fetched for it.
	knife := b.add(change{name: "knife", people: 1, ChangeStep: ChangeStep{Time: 60}})
	for _, name := range []string{"fetch", "label", "pile"} {
		b.ahead = append(b.ahead, change{name: name, people: 1, ChangeStep: ChangeStep{Time: 30}})
	}
	s := b.search(2, b.ahead)
	assert.Equal(t, 9, s.n)
	assert.Equal(t, []uint64{1, 1 | 1<<6 | 1<<8, 1}, s.after[6:9])
	assert.Equal(t, uint64(1<<6), s.after[knife])
	s = b.searchAhead(2)
	assert.Equal(t, []uint64{0, 1<<0 | 1<<2, 0}, s.after[:s.n])
}
