package whatif

// A function is what the numerics of this package work on: it sets every varied
// input to x, in the unit held, solves, and writes the wanted outputs to y, NaN
// for one that the answer leaves out. It returns the calculation's error; y is
// then all NaN.
type function func(x, y []float64) error
