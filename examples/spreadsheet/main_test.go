package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/testdata"
)

func call(in string, args ...string) (code int, stdout, stderr string) {
	var out, complaints bytes.Buffer
	code = run(args, strings.NewReader(in), &out, &complaints)
	return code, out.String(), complaints.String()
}

var water = []string{"water-temperature", "-target_temp", "26 °C", "-flour_temp", "21 °C", "-room", "23 °C", "-friction", "14 C°", "-friction_basis", "once"}

func open(t *testing.T, name string) *excelize.File {
	f, err := excelize.OpenFile(name)
	require.NoError(t, err)
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func value(t *testing.T, f *excelize.File, sheet, cell string) string {
	v, err := f.GetCellValue(sheet, cell)
	require.NoError(t, err)
	return v
}

// find returns the row of a sheet that starts with the text.
func find(t *testing.T, f *excelize.File, sheet, starts string) (row int, cells []string) {
	rows, err := f.GetRows(sheet)
	require.NoError(t, err)
	for i, r := range rows {
		if len(r) > 0 && strings.HasPrefix(r[0], starts) {
			return i + 1, r
		}
	}
	require.Fail(t, "no row starts so", "%s in %s", starts, sheet)
	return 0, nil
}

func TestCalculation(t *testing.T) {
	name := filepath.Join(t.TempDir(), "water.xlsx")
	code, out, complaints := call("", slices.Concat([]string{"-o", name}, water)...)
	require.Equal(t, done, code, complaints)
	assert.Equal(t, name+": 3 results from 9 steps\n", out)
	f := open(t, name)
	assert.Equal(t, []string{"water-temperature", "working"}, f.GetSheetList())
	_, target := find(t, f, "water-temperature", "target temp")
	assert.Equal(t, []string{"target temp", "T_d", "26.0", "°C", "26.0"}, target[:5])
	at, result := find(t, f, "water-temperature", "water temp")
	assert.Equal(t, []string{"water temp", "T_w", "20.0", "°C", "20.0"}, result[:5])
	formula, err := f.GetCellFormula("water-temperature", cellName(colValue, at))
	require.NoError(t, err)
	assert.Equal(t, "'working'!C13", formula)
	formula, err = f.GetCellFormula("working", "C13")
	require.NoError(t, err)
	assert.Equal(t, "C12-C10", formula)
	find(t, f, "water-temperature", "friction basis") // what the formulas hold for
	_, anew := find(t, f, "water-temperature", "make it anew")
	assert.Contains(t, anew[1], "water-temperature -target_temp '26 °C'")
	_, always := find(t, f, "water-temperature", "always")
	assert.Contains(t, always[1], "machine's manual")
}

// The input cells, and no others, can be changed, and take no text.
func TestOnlyInputsAreOpen(t *testing.T) {
	name := filepath.Join(t.TempDir(), "water.xlsx")
	code, _, complaints := call("", slices.Concat([]string{"-o", name}, water)...)
	require.Equal(t, done, code, complaints)
	f := open(t, name)
	unlocked := 0
	for _, sheet := range f.GetSheetList() {
		guard, err := f.GetSheetProtection(sheet)
		require.NoError(t, err)
		assert.True(t, guard.SelectUnlockedCells)
		rows, err := f.GetRows(sheet)
		require.NoError(t, err)
		for r := range rows {
			for c := range frontWidths {
				id, err := f.GetCellStyle(sheet, cellName(c, r+1))
				require.NoError(t, err)
				style, err := f.GetStyle(id)
				require.NoError(t, err)
				if style.Protection != nil && !style.Protection.Locked {
					assert.Equal(t, colValue, c, "%s row %d", sheet, r+1)
					unlocked++
				}
			}
		}
	}
	assert.Equal(t, 4, unlocked)
	checks, err := f.GetDataValidations("water-temperature")
	require.NoError(t, err)
	require.Len(t, checks, 4)
	assert.Equal(t, "0", checks[0].Formula1)
	assert.Equal(t, "45", checks[0].Formula2)
	assert.Contains(t, *checks[0].Error, "wanted dough temperature: a number in °C, 0 °C to 45 °C")
}

func TestUSUnits(t *testing.T) {
	name := filepath.Join(t.TempDir(), "water.xlsx")
	code, _, complaints := call("", slices.Concat([]string{"-units", "us", "-o", name}, water)...)
	require.Equal(t, done, code, complaints)
	f := open(t, name)
	at, result := find(t, f, "water-temperature", "water temp")
	assert.Equal(t, []string{"water temp", "T_w", "68.0", "°F", "68.0"}, result[:5])
	formula, err := f.GetCellFormula("water-temperature", cellName(colValue, at))
	require.NoError(t, err)
	assert.Equal(t, "'working'!C13/5*9+32", formula)
	layout, err := f.GetPageLayout("working")
	require.NoError(t, err)
	assert.Equal(t, paperLetter, *layout.Size)
}

func TestJSONAndInput(t *testing.T) {
	dir := t.TempDir()
	object := `{"length":"300 mm","thickness":"5 mm"}`
	code, _, complaints := call("", "-o", filepath.Join(dir, "a.xlsx"), "curls", object)
	require.Equal(t, done, code, complaints)
	code, _, complaints = call(object, "-o", filepath.Join(dir, "b.xlsx"), "curls", "-")
	require.Equal(t, done, code, complaints)
	code, _, complaints = call("", "-o", filepath.Join(dir, "c.xlsx"), "curls", "-length=300 mm", "-thickness=5 mm")
	require.Equal(t, done, code, complaints)
	for _, name := range []string{"a", "b", "c"} {
		_, turns := find(t, open(t, filepath.Join(dir, name+".xlsx")), "curls", "turns")
		assert.Equal(t, "4.370", turns[2])
	}
	code, _, complaints = call("", "-o", filepath.Join(dir, "d.xlsx"), "oil-use", "-valves", "1.2 ml/min, 1.4 ml/min", "-scaling", "2 h", "-runs", "2")
	require.Equal(t, done, code, complaints)
	code, _, complaints = call("", "-o", filepath.Join(dir, "e.xlsx"), "scaling-weight", "-baked", "45 g", "-bake.percent", "11 %", "-bake.basis", "dough", "-combine", "compounded")
	require.Equal(t, done, code, complaints)
}

// bent is the demo scenario with its first order only, and texts swapped in it.
func bent(t *testing.T, swaps ...string) string {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	text := string(data)
	first := strings.Index(text, `      "pieces": 4000`)
	text = strings.TrimRight(strings.TrimSpace(text[:first]), "{, \n") + "]}"
	var parts map[string]json.RawMessage
	require.NoError(t, json.Unmarshal([]byte(text), &parts))
	delete(parts, "day") // it asks for all orders
	short, err := json.MarshalIndent(parts, "", "  ")
	require.NoError(t, err)
	text = string(short)
	for i := 0; i < len(swaps); i += 2 {
		require.Contains(t, text, swaps[i])
		text = strings.Replace(text, swaps[i], swaps[i+1], 1)
	}
	return text
}

func TestScenario(t *testing.T) {
	name := filepath.Join(t.TempDir(), "day.xlsx")
	code, out, complaints := call(bent(t, `"Star bun"`, `"=1+1"`), "-o", name, "-scenario", "-")
	require.Equal(t, done, code, complaints)
	assert.Contains(t, out, "1 order, ")
	f := open(t, name)
	assert.Equal(t, []string{"orders", "line and shift", "1 =1+1", "1 working"}, f.GetSheetList())
	assert.Equal(t, "'=1+1", value(t, f, "orders", "B5"), "a product's name is no formula")
	assert.Equal(t, "6040", value(t, f, "orders", "C5"))
	assert.Equal(t, "all that are planned", value(t, f, "orders", "B6"))
	formula, err := f.GetCellFormula("orders", "C6")
	require.NoError(t, err)
	assert.Equal(t, "SUM(C5:C5)", formula)
	find(t, f, "line and shift", "shift: flour temp")
	find(t, f, "1 =1+1", "order: product: baked")
}

func TestOrderNotAsAsked(t *testing.T) {
	name := filepath.Join(t.TempDir(), "day.xlsx")
	code, out, complaints := call(bent(t, `"hopper_max": "25 min"`, `"hopper_max": "1 min"`), "-o", name, "-scenario", "-")
	assert.Equal(t, refused, code, complaints)
	assert.Contains(t, out, "order 1 cannot be made as asked: see its sheet")
	f := open(t, name)
	assert.Equal(t, "NOT AS ASKED", value(t, f, "1 Star bun", "A2"))
	assert.NotEmpty(t, value(t, f, "1 Star bun", "A3"))
	assert.Contains(t, value(t, f, "orders", "C5"), "not as asked")
}

func TestRefusals(t *testing.T) {
	dir := t.TempDir()
	there := filepath.Join(dir, "there.xlsx")
	require.NoError(t, os.WriteFile(there, []byte("a planner's work"), 0o600))
	day := filepath.Join(dir, "day.xlsx")
	require.NoError(t, os.WriteFile(day, []byte(bent(t)), 0o600))
	linked := filepath.Join(dir, "linked.xlsx")
	require.NoError(t, os.Link(day, linked))
	new := filepath.Join(dir, "new.xlsx")
	for name, c := range map[string]struct {
		in   string
		args []string
		code int
		says string
	}{
		"no such calculation": {"", []string{"-o", new, "curl"}, misused, `"curls" perhaps`},
		"no such option":      {"", []string{"-x"}, misused, "help lists the options"},
		"no such units":       {"", []string{"-units", "uk"}, misused, "units"},
		"no such paper":       {"", []string{"-paper", "a3"}, misused, "want a4 or letter"},
		"no workbook's name":  {"", []string{"-o", "plan.csv"}, misused, "ends in .xlsx"},
		"both":                {"", []string{"-scenario", day, "curls"}, misused, "not both"},
		"no value":            {"", []string{"-o", new, "curls", "-length"}, misused, "no value after it"},
		"no flag":             {"", []string{"-o", new, "curls", "300 mm"}, misused, "want -NAME VALUE"},
		"twice":               {"", []string{"-o", new, "curls", "-length", "1 m", "-length", "2 m"}, misused, "there twice"},
		"no unit":             {"", []string{"-o", new, "curls", "-length", "300", "-thickness", "5 mm"}, refused, "want a unit after the number"},
		"all that is wrong":   {"", []string{"-o", new, "curls", "-length", "-1 mm", "-thicknes", "5 mm"}, refused, "thicknes"},
		"no JSON":             {"{", []string{"-o", new, "curls", "-"}, refused, "JSON"},
		"no file":             {"", []string{"-o", new, "-scenario", filepath.Join(dir, "none.json")}, broken, "none.json"},
		"scenario a folder":   {"", []string{"-o", new, "-scenario", dir}, broken, "is a folder"},
		"wrong scenario":      {bent(t, `"22 °C"`, `"222 °C"`), []string{"-o", new, "-scenario", "-"}, refused, "shift.flour_temp"},
		"a folder":            {"", append([]string{"-replace", "-o", dirNamed(t, dir)}, water...), broken, "is a folder"},
		"no folder":           {"", append([]string{"-o", filepath.Join(dir, "none", "a.xlsx")}, water...), broken, "none"},
		"there already":       {"", append([]string{"-o", there}, water...), broken, "there already"},
		"the scenario itself": {"", []string{"-replace", "-o", day, "-scenario", day}, misused, "would go over"},
		"the same file":       {"", []string{"-replace", "-o", linked, "-scenario", day}, misused, "would go over"},
		"endless input":       {strings.Repeat(" ", intake.Most+1), []string{"-o", new, "curls", "-"}, broken, "has more than"},
	} {
		code, out, complaints := call(c.in, c.args...)
		assert.Equal(t, c.code, code, "%s: %s", name, complaints)
		assert.Contains(t, complaints, c.says, name)
		assert.Empty(t, out, name)
	}
	assert.NoFileExists(t, new)
	kept, err := os.ReadFile(there)
	require.NoError(t, err)
	assert.Equal(t, "a planner's work", string(kept))
	for _, ending := range []string{"*.part*", "*.lock"} {
		left, err := filepath.Glob(filepath.Join(dir, ending))
		require.NoError(t, err)
		assert.Empty(t, left)
	}
	code, _, complaints := call("", append([]string{"-replace", "-o", there}, water...)...)
	assert.Equal(t, done, code, complaints)
	open(t, there)
}

func dirNamed(t *testing.T, dir string) string {
	name := filepath.Join(dir, "folder.xlsx")
	require.NoError(t, os.Mkdir(name, 0o755))
	return name
}

func TestHelp(t *testing.T) {
	for _, args := range [][]string{{"help"}, {"-h"}, {"--help"}} {
		code, out, _ := call("", args...)
		assert.Equal(t, done, code)
		assert.Equal(t, help, out)
	}
}

// The demo's workbook has a sheet for every order and says what lineplan says.
func TestDemo(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "plan.xlsx")
	if all {
		code, out, complaints := call("", "-o", name)
		require.Equal(t, done, code, complaints)
		assert.Contains(t, out, "4 orders, ")
	} else { // the same workbook, with fewer inputs found to follow
		orders, err := planLive(&s, unit.Metric, 25)
		require.NoError(t, err)
		b := &book{paper: paperA4}
		scenario(b, &s, orders, unit.Metric, "go run ./examples/spreadsheet")
		o := options{out: name}
		require.NoError(t, o.save(b))
	}
	plans, err := s.PlanAll()
	require.NoError(t, err)
	f := open(t, name)
	dough := 0.0
	for i, p := range plans {
		row := strconv.Itoa(5 + i)
		assert.Equal(t, p.Order.Product.Name, value(t, f, "orders", "B"+row))
		assert.Equal(t, strconv.Itoa(p.Plan.Batch.PiecesMade), value(t, f, "orders", "C"+row))
		assert.Equal(t, strconv.FormatFloat(p.Plan.Batch.Made.Kilograms(), 'f', 3, 64), value(t, f, "orders", "E"+row))
		dough += p.Plan.Batch.Made.Kilograms()
		find(t, f, strconv.Itoa(i+1)+" "+p.Order.Product.Name, "order: product: baked")
		find(t, f, strconv.Itoa(i+1)+" working", "Working: ")
	}
	assert.Equal(t, strconv.FormatFloat(dough, 'f', 3, 64), value(t, f, "orders", "E9"))
}
