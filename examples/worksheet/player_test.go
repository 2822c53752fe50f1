package main

import (
	"bytes"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/exercise"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/browser"
)

// player finds a browser and a QTI player that know nothing of this library: Chromium, and
// the packages qti3-item-player and vue of the npm registry, both under the MIT licence.
// BROWSER=need fails where they are not installed; without it the test is skipped.
func player(t *testing.T) (chromium, packages string) {
	chromium = browser.Tool(t, "chromium")
	packages = os.Getenv("NODE_PATH")
	_, err := os.Stat(filepath.Join(packages, "qti3-item-player"))
	require.NoError(t, err, "install the player as .ci/run does, and say in NODE_PATH where it is")
	return chromium, packages
}

// A loadedItem is an item with what is typed into it, attempt by attempt.
type loadedItem struct {
	Name    string
	XML     string
	Answers [][]string // the blanks, then the answer

	exercise *exercise.Exercise
	key      *exercise.Key
}

// A foundItem is what the player made of it.
type foundItem struct {
	Name, Key string
	Entries   int
	Before    []string // what is told before there is an answer
	Problems  []string
	Attempts  []struct {
		Outcomes map[string]string
		Told     []string
		Steps    []string
	}
}

// tried are the answers that an item is tried with: right, right in too many
// figures or too few, nearly right, every likely mistake, wrong, none; the
// working without the answer, and with a wrong number that is followed through or not.
func tried(k *exercise.Key) [][]string {
	last := max(0, len(k.Blanks)-1)
	alone := func(answer string) []string { return append(make([]string, last), answer) }
	all := [][]string{alone(typed(k.Value * 1.37)), alone(""), alone("flour"), alone("-")}
	for _, b := range k.Scheme().Bands {
		all = append(all, alone(typed(b.Low+(b.High-b.Low)/2)))
	}
	for _, m := range k.Mistakes {
		all = append(all, alone(typed(m.Value)))
	}
	if last == 0 {
		return all
	}
	full := make([]string, last)
	for i := range full {
		full[i] = typed(k.Blanks[i].Number)
	}
	all = append(all, append(full[:last:last], ""), append(full[:last:last], typed(k.Value)), append(full[:last:last], typed(k.Value*1.37)))
	for i := range full { // this one wrong, the others as they were; then as they follow
		wrong := append(full[:last:last], typed(k.Value))
		wrong[i] = typed(k.Blanks[i].Number*1.25 + 1)
		if lacks(k) {
			all = append(all, wrong)
			continue
		}
		follows := follow(k, wrong, i)
		all = append(all, wrong, follows, append(follows[:i+1:i+1], make([]string, last-i)...))
	}
	return all
}

// typed is a number as a person types it who gives far too many figures.
func typed(v float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return "NaN"
	}
	return decimal(short)
}

// lacks reports whether a relation of the working has a function that QTI does not.
func lacks(k *exercise.Key) bool {
	return slices.ContainsFunc(k.Scheme().Steps, func(r exercise.StepRule) bool { return r.Follows != nil && qtiExpression(r.Follows) == nil })
}

// follow works out what comes after the blank from what stands in the ones before.
func follow(k *exercise.Key, texts []string, after int) []string {
	s := k.Scheme()
	out := append([]string(nil), texts...)
	for i := after + 1; i < len(out); i++ {
		r := &s.Steps[i]
		if r.Follows == nil {
			continue
		}
		held := r.Follows.Eval(func(symbol string) (float64, bool) {
			n, err := strconv.Atoi(symbol)
			if err != nil {
				return 0, false // pi
			}
			v, err := strconv.ParseFloat(out[n-1], 64)
			return s.Steps[n-1].Scale.Held(v), err == nil
		})
		if text := typed(r.Scale.Number(held)); !strings.ContainsAny(text, "NI") { // NaN, Inf
			out[i] = text
		}
	}
	return out
}

// withUnit is what stands in an entry as the library reads it: a platform has
// the unit behind the entry, and lets nobody type a word into it.
func withUnit(text, symbol string) string {
	if text == "" || text == "flour" {
		return ""
	}
	return strings.TrimSpace(text + " " + symbol)
}

// An open-source QTI player, in a browser, loads an exercise of every
// calculation in both systems of units, and its marks are those of the library.
func TestAPlayerMarksAlike(t *testing.T) {
	chromium, packages := player(t)
	var items []loadedItem
	for _, system := range []unit.System{unit.Metric, unit.US} {
		var ids []string
		for _, e := range calc.Entries() {
			if _, unfitted := exercise.Unfit(e.ID); !unfitted {
				ids = append(ids, e.ID)
			}
		}
		o := options{key: true, set: exercise.SetSpec{Size: len(ids), Seed: 11, Units: system, Calculations: ids}}
		set, err := o.set.Make()
		require.NoError(t, err)
		s, err := setSheet(set, o)
		require.NoError(t, err)
		for i := range s.Items {
			items = append(items, loadedItem{s.itemName(i), string(s.qtiItem(i).document()), tried(s.Items[i].key), s.Items[i].exercise, s.Items[i].key})
		}
	}
	found := play(t, chromium, packages, items)
	require.Len(t, found, len(items))
	attempts := 0
	lacking := map[string]bool{}
	for i := range items {
		attempts += len(items[i].Answers)
		items[i].compare(t, &found[i])
		if lacks(items[i].key) {
			lacking[items[i].exercise.Spec.Calculation] = true
		}
	}
	assert.Equal(t, map[string]bool{"doubles-risk": true, "fraction-below": true}, lacking, "an earlier wrong number is not followed through there: QTI has no normal distribution")
	t.Logf("%d items, %d attempts", len(items), attempts)
}

func (l *loadedItem) compare(t *testing.T, f *foundItem) {
	require.Equal(t, l.Name, f.Name)
	if !assert.Empty(t, f.Problems, f.Name) || !assert.Len(t, f.Attempts, len(l.Answers), f.Name) {
		return
	}
	blanks := len(l.key.Blanks)
	assert.Equal(t, max(1, blanks), f.Entries, f.Name)
	assert.Empty(t, f.Before, "%s tells something before there is an answer", f.Name)
	assert.NotContains(t, f.Key, l.key.Answer, "%s shows the key", f.Name)
	for i, texts := range l.Answers {
		answer := withUnit(texts[len(texts)-1], l.exercise.Asked.Unit)
		work := make([]string, max(0, blanks-1))
		for j := range work {
			work[j] = withUnit(texts[j], l.key.Blanks[j].Unit)
		}
		want, err := l.key.MarkWork(work, answer)
		require.NoError(t, err)
		got, name := &f.Attempts[i], l.Name+": "+strings.Join(texts, ", ")
		score, err := strconv.ParseFloat(got.Outcomes["SCORE"], 64)
		require.NoError(t, err, name)
		assert.InDelta(t, want.Score, score, 1e-9, name)
		told := marked(want.Answer)
		switch {
		case want.Answer.Verdict == exercise.Empty:
			told = toldNone
		case want.Answer.Verdict == exercise.Unread:
			told, want.Answer.Says = toldUnread, onlyNumber
		case want.Answer.Says == exercise.FollowedAnswer:
			told = string(exercise.Followed)
		}
		assert.Equal(t, told, got.Outcomes["FEEDBACK"], name)
		if told != toldNone {
			assert.Equal(t, []string{want.Answer.Says}, got.Told, name)
		}
		var says []string
		for j := range work {
			verdict := want.Steps[j].Verdict
			if verdict == exercise.Empty {
				verdict = ""
			}
			assert.Equal(t, string(verdict), got.Outcomes[numbered(outStepTold, j)], "%s: step %d", name, j+1)
			switch verdict {
			case exercise.Right:
				says = append(says, "Right.")
			case "":
			default:
				says = append(says, want.Steps[j].Says)
			}
		}
		assert.Equal(t, strings.Join(says, "|"), strings.Join(got.Steps, "|"), name)
	}
}

// play serves the player, the items and the page that brings them together to
// a chromium without a window, and waits for what it found.
func play(t *testing.T, chromium, packages string, items []loadedItem) (found []foundItem) {
	t.Helper()
	done := make(chan []byte, 1)
	files := http.NewServeMux()
	for path, file := range map[string]string{
		"/": filepath.Join("testdata", "player.html"), "/vue.js": filepath.Join(packages, "vue", "dist", "vue.min.js"),
		"/player.js":  filepath.Join(packages, "qti3-item-player", "dist", "qti3Player.umd.min.js"),
		"/player.css": filepath.Join(packages, "qti3-item-player", "dist", "qti3Player.css"),
	} {
		files.HandleFunc(path, func(w http.ResponseWriter, r *http.Request) { http.ServeFile(w, r, file) })
	}
	files.HandleFunc("/work", func(w http.ResponseWriter, _ *http.Request) { assert.NoError(t, json.NewEncoder(w).Encode(items)) })
	files.HandleFunc("POST /found", func(_ http.ResponseWriter, r *http.Request) {
		var b bytes.Buffer
		_, err := b.ReadFrom(r.Body)
		assert.NoError(t, err)
		done <- b.Bytes()
	})
	server := httptest.NewServer(files)
	defer server.Close()
	window := exec.Command(chromium, "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--user-data-dir="+t.TempDir(),
		"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1", server.URL)
	require.NoError(t, window.Start())
	defer func() {
		_ = window.Process.Kill()
		_ = window.Wait() // killed, it says so
	}()
	select {
	case text := <-done:
		require.NoError(t, json.Unmarshal(text, &found))
	case <-time.After(10 * time.Minute):
		t.Fatal("the browser found nothing in ten minutes")
	}
	return found
}
