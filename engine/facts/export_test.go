package facts

import (
	"slices"
	"testing"
)

// AddRow adds a fact behind all others for the time of a test.
func AddRow(t *testing.T, row Fact) {
	before := table
	rows := append(slices.Clone(before().rows), row)
	with := follow(rows)
	table = func() *vocabulary { return with }
	t.Cleanup(func() { table = before })
}

// Computed gives a row with the function that computes it.
func Computed(row Fact, value func(v *Values) float64) Fact {
	row.value = value
	return row
}
