package main

const help = `whatif varies a plan, a whole day or any calculation, and says what comes of it.

  whatif vary [OPTION...]     a row for every scenario, and a picture
  whatif seek [OPTION...]     where an output has a wanted value: -value "4 °C"
  whatif best [OPTION...]     the best setting: -aim "most PATH", "least PATH", "nearest PATH=VALUE"
  whatif spread [OPTION...]   how far outputs may be off when inputs are, and which input decides
  whatif robust [OPTION...]   the setting that keeps within limits most often, while -scatter scatters
  whatif compare [OPTION...]  cases side by side: -case "NAME: PATH=VALUE; PATH=VALUE"

What is varied (of the invented demo plant, if nothing is said)
  -scenario FILE         a line, a shift and its orders; paths such as shift.tap,
                         "orders[Star bun].product.baked" and "orders[Star bun].water_temp"
  -product NAME          the plan of this order alone; paths such as shift.tap, order.product.baked,
                         line.divider.mark_step, and of outputs water_temp, rate.piece_rate
  -id ID -base OBJECT    a calculation and its input, as JSON or the name of its file;
                         calc about ID lists the paths
  -study FILE            a study as JSON, which may name what is varied, too

How
  -vary "PATH=FIRST..LAST in COUNT"   so many values, both ends among them; may be repeated
  -vary "PATH=FIRST..LAST by STEP"    steps; of a temperature a difference, "2 C°"
  -vary "PATH=VALUE, VALUE"           a list of values or words
  -vary "PATH=MEAN ± HALF"            a tolerance, drawn evenly; +- will do; no MEAN: as in the base
  -vary "PATH=MEAN sd SD"             drawn from a normal distribution
  -vary "PATH=FIRST..LAST"            the range: where scenarios are drawn, sought or chosen
  -want "PATH,PATH (UNIT)"            the outputs, in a unit of choice
  -within "PATH<=VALUE"               what must be so: also >=, and "PATH=LOW..HIGH"; may be repeated;
                                      of each row of vary, what is in the way stands in a column
  -avoid WORD,WORD                    conditions that must not be met (-with WORD: that must; best, robust)
  -units metric|us                    of columns that name none
  -combine grid|side-by-side|random|latin-hypercube|sobol|halton
  -samples N -seed N                  how many are drawn, and from where
  -workers N                          processors; changes no digit
  -force                              run a study above the limit of scenarios

What comes out
  -to table|csv|jsonl    rows (vary); text|json (the others); by the ending of -file
  -file NAME             the file to write, whole or not at all
  -plot NAME.svg|.png    a picture; may be repeated (vary, spread)
  -chart lines|heat      lines, or a heat map with the window in which all is as it must be (vary);
         tornado|histogram of the first output (spread)
  -explain               the steps of the working that changed (compare)
  -exact                 choose among the scenarios alone (best)
  -first N -count N      a part of the rows (vary): any part may run anywhere
  -digits N -probability "95 %" of the uncertainty and its interval (spread)
  -points N              places looked at (seek)

Every column has one unit, which stands in its name. A scenario without an answer is a row
with its error in the last column. Interrupted, it ends with whole rows, and says where to go on.

Leaves with 0 if all went well, 1 if what was asked has no answer, 2 if it was called wrongly,
3 if a file or what is printed could not be read or written, 4 if it was interrupted.

Examples
  go run ./examples/whatif vary -product "Star bun" -vary "shift.tap=6 °C..20 °C in 8" -vary "shift.flour_temp=16 °C..30 °C in 8" -want "ice_to_weigh (kg),water_temp" -within "ice_to_weigh<=0 kg" -plot ice.svg
  go run ./examples/whatif seek -product "Star bun" -vary "shift.flour_temp=10 °C..40 °C" -want water_temp -value "12 °C"
  go run ./examples/whatif best -product "Star bun" -vary "shift.flour_temp=15 °C..35 °C in 5" -aim "most shift.flour_temp" -within "ice_to_weigh<=0 g"
  go run ./examples/whatif spread -study examples/whatif/tolerances.json -plot tolerances.svg
  go run ./examples/whatif robust -id dough-temperature-for-water -base '{"water_temp":"16 °C","flour_temp":"22 °C","room":"25 °C","friction":"15 C°","friction_basis":"once"}' -vary "water_temp=10 °C..20 °C in 11" -scatter "friction=± 3 C°" -within "dough_temp=25 °C..27 °C"
  go run ./examples/whatif compare -product "Star bun" -case "warm day: shift.flour_temp=28 °C; shift.room=30 °C" -want "water_temp,ice_to_weigh (kg)" -explain
`
