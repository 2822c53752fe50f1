package desk

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/reckon"
)

// reply asks and reads the reply.
func reply[A any](t *testing.T, kind, request string) (a A) {
	t.Helper()
	var out struct {
		Reply   A                `json:"reply"`
		Refused []reckon.Refusal `json:"refused"`
	}
	require.NoError(t, json.Unmarshal(Answer(kind, []byte(request)), &out))
	require.Empty(t, out.Refused, request)
	return out.Reply
}

func encoded(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return string(text)
}

func TestTopics(t *testing.T) {
	topics := reply[[]Topic](t, "topics", "{}")
	sum, words := 0, map[string]bool{}
	for _, topic := range topics {
		assert.NotEqual(t, topic.Station, topic.Words, "give the topic its words")
		assert.False(t, words[topic.Words], topic.Words)
		words[topic.Words] = true
		sum += topic.Exercises
	}
	assert.Equal(t, 2*topics[0].Exercises, sum)
	for _, topic := range topics {
		set := reply[[]Shown](t, "set", encoded(t, exercise.SetSpec{Size: 2, Seed: 1, Station: topic.Station}))
		assert.Len(t, set, 2)
	}
}

// A set is the one that the library makes from the same numbers, and every
// exercise of it is made again from what the page keeps.
func TestSet(t *testing.T) {
	for _, spec := range []string{`{"size":25,"seed":7}`, `{"size":25,"seed":7,"units":"us","distractors":2,"conversions":1}`} {
		var s exercise.SetSpec
		require.NoError(t, json.Unmarshal([]byte(spec), &s))
		want, err := s.Make()
		require.NoError(t, err)
		for i, shown := range reply[[]Shown](t, "set", spec) {
			e := want[i]
			assert.Equal(t, e.Question, shown.Question)
			assert.Equal(t, e.Lines(), shown.Given)
			assert.Equal(t, len(e.Hazards) > 0, shown.Defer != "")
			k, err := e.Key()
			require.NoError(t, err)
			got := reply[Key](t, "key", encoded(t, shown.Spec))
			assert.Equal(t, k.Answer, got.Answer)
			assert.NotContains(t, strings.Join(shown.Given, " ")+shown.Find, "NaN")
			var blanks []Step
			for _, step := range got.Working {
				for _, math := range []string{step.Relation, step.Numbers} {
					wellFormed(t, math)
				}
				if step.Blank {
					blanks = append(blanks, step)
				}
			}
			require.Len(t, blanks, len(k.Blanks), "%s: every blank has its line", e.Spec.Calculation)
			filled := make([]string, len(blanks))
			for n, b := range k.Blanks {
				assert.Equal(t, b.Words, blanks[n].Words)
				filled[n] = b.Value
			}
			marked := reply[exercise.WorkMark](t, "mark", encoded(t, Work{Spec: shown.Spec, Answer: got.Answer}))
			assert.Equal(t, exercise.Right, marked.Answer.Verdict)
			assert.Equal(t, 1.0, marked.Score)
			marked = reply[exercise.WorkMark](t, "mark", encoded(t, Work{Spec: shown.Spec, Answer: got.Answer, Blanks: filled}))
			assert.Equal(t, 1.0, marked.Score, e.Spec.Calculation)
			assert.Len(t, marked.Steps, len(blanks))
		}
	}
}

func wellFormed(t *testing.T, text string) {
	t.Helper()
	for dec := xml.NewDecoder(strings.NewReader("<p>" + text + "</p>")); ; {
		if _, err := dec.Token(); errors.Is(err, io.EOF) {
			return
		} else if !assert.NoError(t, err, text) {
			return
		}
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range []struct{ kind, request, says string }{
		{"set", `{"size":0,"seed":-1}`, `"field":"seed"`},
		{"set", `{"size":3,"station":"oven"}`, "moulder"},
		{"set", `{"size":3,"calculations":["curles"]}`, "curls"},
		{"set", `{"size":"ten"}`, "cannot be read"},
		{"set", `{"size":3,"units":"imperial"}`, "cannot be read"},
		{"set", ``, "cannot be read"},
		{"set", strings.Repeat("[", maxRequest+1), "too long"},
		{"set", strings.Repeat("[", maxRequest), "cannot be read"},
		{"key", `{"calculation":"<b>"}`, "calculation"},
		{"mark", `{"spec":{"calculation":"curls","asked":"nothing"},"answer":"1"}`, "asked"},
		{"mark", `{"spec":{"calculation":"curls"},"blanks":["1","2","3","4","5","6","7","8","9"]}`, "blanks"},
		{"bake", `{}`, "bake"},
	} {
		text := string(Answer(c.kind, []byte(c.request)))
		assert.True(t, strings.HasPrefix(text, `{"refused":[{`), text)
		assert.Contains(t, text, c.says, c.request)
		assert.Less(t, len(text), 3000)
	}
	long := reply[exercise.WorkMark](t, "mark", encoded(t, Work{Spec: exercise.Spec{Calculation: "curls"}, Answer: strings.Repeat("9", 10000)}))
	assert.Equal(t, exercise.Unread, long.Answer.Verdict)
}
