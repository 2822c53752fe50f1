// Package whatif varies any calculation or whole plan.
package whatif
