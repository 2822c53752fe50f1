package testdata

import "math/rand/v2"

// Mutate changes numbers, units, names and structure of a JSON text as slips
// of the pen would.
func Mutate(r *rand.Rand, text string) string {
	b := []byte(text)
	for range 1 + r.IntN(4) {
		if len(b) < 2 {
			break
		}
		i := r.IntN(len(b))
		switch r.IntN(6) {
		case 0:
			b[i] = "0123456789.-e\"{}[],:"[r.IntN(20)]
		case 1:
			b = append(b[:i], b[i+1:]...)
		case 2:
			b = append(b[:i], append([]byte{"0123456789.-e"[r.IntN(13)]}, b[i:]...)...)
		default:
			if b[i] >= '0' && b[i] <= '9' {
				b[i] = byte('0' + r.IntN(10))
			}
		}
	}
	return string(b)
}
