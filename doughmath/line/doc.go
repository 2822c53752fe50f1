// Package line joins the stations: from one order on one line on one day to
// every setting, the rate, the times and what limits them.
//
//	order, formula ─→ scaling weight ─→ mark ─────────────┐
//	dwell window ─→ shared speed window ─→ strokes ─→ rate ┼─→ batches ─→ weighing, water, ice
//	                                          │            └─→ hopper time
//	                                          └─→ passes, dwell, clear-out ─→ times
//	piece ─→ drum ─→ gap, turns ─→ belts
//
// [Plan] does it in one call. [Commission] checks a line and fits its trial
// pieces once; [Commissioned.Plan] then plans any number of orders on it
// without allocating, from any number of goroutines.
//
// [Window] says at which settings an order runs, what limits them and why none does; an [Aim] chooses among them.
//
// [ControlSettings] says where each control of the line stands for a plan, [Changeover] what is
// changed from one product to the next and by whom, and [KnownGood] what ran well before, from the [RunRecord]s that a
// shop keeps. [CriticalPath] is what a changeover rests on. [Clock] puts an order on the clock on the wall,
// from the first soaker to the last load of the oven, [DayClock] a whole day; [OvenRate] is what the oven takes.
//
// [FaultCauses] says what is to blame when pieces or run are not as wanted, and which control to move.
//
// [DayPlan] puts the orders of a day into the order in which the line makes them, [RunOrder] any runs whose changeover
// depends on what was made before.
//
// A [Scenario] is a plant, a day and its orders as one JSON text.
package line
