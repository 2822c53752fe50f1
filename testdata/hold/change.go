package hold

import (
	"encoding"
	"math"
	"reflect"
	"strings"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// dice are the bytes of a fuzzer, each used once. When they are used up, all throws are 0.
type dice []byte

func (d *dice) byte() byte {
	if len(*d) == 0 {
		return 0
	}
	b := (*d)[0]
	*d = (*d)[1:]
	return b
}

// n throws a whole number from 0 to below n.
func (d *dice) n(n int) int {
	if n <= 256 {
		return int(d.byte()) % n
	}
	return (int(d.byte())<<8 | int(d.byte())) % n
}

// share throws a number from 0 to 1.
func (d *dice) share() float64 { return float64(int(d.byte())<<8|int(d.byte())) / 65535 }

// changed returns a pointer to the question of the example with some of its inputs changed, as the dice fall:
// a little, anywhere within the range, to a bound, beyond it, or to what is no number at all.
func changed(e calc.Entry, d *dice) reflect.Value {
	q := Example(e)
	for range 6 {
		if len(*d) == 0 {
			break
		}
		places := placesOf(e, q.Elem())
		if len(places) == 0 {
			break
		}
		places[d.n(len(places))].change(d)
	}
	return q
}

// place is one input, a list or a part of a question.
type place struct {
	v     reflect.Value
	span  reckon.Range // of a number
	words []string     // of a word
}

// mostItems bounds how many items of a list are changed one by one.
const mostItems = 12

func placesOf(e calc.Entry, q reflect.Value) []place {
	words := map[string][]string{}
	for _, f := range describe.Of(e).Inputs {
		for _, c := range f.Choices {
			words[f.Name] = append(words[f.Name], c.Word)
		}
	}
	var out []place
	var walk func(v reflect.Value, path string, tag reflect.StructTag)
	walk = func(v reflect.Value, path string, tag reflect.StructTag) {
		p := place{v: v, words: words[path]}
		p.span, _ = reckon.ParseRange(tag.Get("range"))
		switch {
		case v.Kind() == reflect.Pointer:
			out = append(out, p)
			if !v.IsNil() {
				walk(v.Elem(), path, tag)
			}
		case v.Kind() == reflect.Slice, v.Kind() == reflect.Array:
			if v.Kind() == reflect.Slice {
				out = append(out, p)
			}
			for i := range min(v.Len(), mostItems) {
				walk(v.Index(i), path+"[]", tag)
			}
		case v.Kind() == reflect.Struct && !isNumber(v):
			for _, f := range reckon.Fields(v.Type()) {
				walk(v.FieldByIndex(f.Index), strings.TrimPrefix(path+"."+f.Name, "."), f.Tag)
			}
		default:
			out = append(out, p)
		}
	}
	walk(q, "", "")
	return out
}

func isNumber(v reflect.Value) bool {
	return v.Type() == reflect.TypeFor[unit.Temp]() || v.CanFloat() || v.CanInt()
}

func (p place) change(d *dice) {
	switch v := p.v; {
	case isNumber(v):
		p.changeNumber(d)
	case v.Kind() == reflect.Pointer:
		if v.IsNil() {
			v.Set(reflect.New(v.Type().Elem()))
		} else if d.n(4) == 0 {
			v.SetZero()
		}
	case v.Kind() == reflect.Slice:
		p.changeList(d)
	case v.Kind() == reflect.Bool:
		v.SetBool(!v.Bool())
	case v.Kind() == reflect.String:
		words := append([]string{"", "x", "\x1b[2J", "=1+1", strings.Repeat("x", 300)}, p.words...)
		if i := d.n(16); i < len(words) && (i < 5 || len(p.words) > 0) {
			v.SetString(words[i])
		} else if len(p.words) > 0 {
			v.SetString(p.words[d.n(len(p.words))])
		}
	}
}

// changeList leaves an item out, doubles one, or leaves all of them out.
func (p place) changeList(d *dice) {
	n := p.v.Len()
	if n == 0 {
		p.v.Set(reflect.MakeSlice(p.v.Type(), 1, 1))
		return
	}
	i, fresh := d.n(n), reflect.MakeSlice(p.v.Type(), 0, n+1)
	switch d.n(4) {
	case 0:
		fresh = reflect.AppendSlice(fresh, p.v.Slice(0, i))
		fresh = reflect.AppendSlice(fresh, p.v.Slice(i+1, n))
	case 1:
		fresh = reflect.AppendSlice(fresh, p.v.Slice(0, i+1))
		fresh = reflect.AppendSlice(fresh, p.v.Slice(i, n))
	case 2:
		fresh = reflect.AppendSlice(fresh, p.v.Slice(0, i))
	default: // the order
		fresh = reflect.AppendSlice(fresh, p.v.Slice(i, n))
		fresh = reflect.AppendSlice(fresh, p.v.Slice(0, i))
	}
	p.v.Set(fresh)
}

// changeNumber keeps most numbers within their range: what is refused shows little.
func (p place) changeNumber(d *dice) {
	v := numberOf(p.v)
	low, high := p.bound(p.span.Low), p.bound(p.span.High)
	if math.IsNaN(low) {
		low = v / 100
	}
	if math.IsNaN(high) {
		high = 100 * math.Abs(v)
	}
	switch how := d.n(20); how {
	case 0, 1, 2, 3, 4, 5, 6, 7:
		v *= 0.5 + 1.5*d.share()
	case 8, 9:
		v *= float64(1+d.n(20)) / float64(1+d.n(20)) // round numbers meet the edges of what is counted
	case 10, 11:
		v = low + float64((high-low)*d.share())
	case 12:
		if low > 0 && high > low {
			v = low * math.Pow(high/low, d.share())
		} else {
			v = high * math.Pow(10, -12*d.share()) // from 0, by powers of ten
		}
	case 13:
		v = low
	case 14:
		v = high
	case 15:
		v = beside(low, d)
	case 16:
		v = beside(high, d)
	case 17:
		p.v.SetZero()
		return
	default:
		v = [...]float64{-v, v * 1e6, v / 1e6, math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, smallest, 1e15, -1e-9}[d.n(10)]
	}
	if p.v.CanInt() {
		if math.IsNaN(v) || math.Abs(v) > math.MaxInt32 {
			v = math.Copysign(math.MaxInt32, v)
		}
		most := float64(int64(1)<<(p.v.Type().Bits()-2)) * 2
		v = math.Round(min(max(v, -most), most-1))
	}
	SetNumber(p.v, v)
}

// smallest is a number that is next to nothing, and keeps its digits in another unit.
const smallest = 1e-250

// beside returns the next number below v or above.
func beside(v float64, d *dice) float64 {
	way := float64(2*d.n(2) - 1)
	if v == 0 {
		return way * smallest
	}
	return math.Nextafter(v, math.Inf(int(way)))
}

// bound reads a bound of the range; NaN if there is none.
func (p place) bound(text string) float64 {
	if text == "" {
		return math.NaN()
	}
	at := reflect.New(p.v.Type())
	if u, ok := at.Interface().(encoding.TextUnmarshaler); ok {
		if u.UnmarshalText([]byte(text)) != nil {
			return math.NaN()
		}
		return numberOf(at.Elem())
	}
	return numberIn(text)
}

// Example returns a pointer to the question of the calculation's example, as a value of its own.
func Example(e calc.Entry) reflect.Value {
	q, err := e.Read([]byte(e.Example))
	if err != nil {
		panic(err)
	}
	return reflect.ValueOf(q)
}
