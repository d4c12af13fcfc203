package lang

import "testing"

func TestTablePlacesCountCells(t *testing.T) {
	src, places := NewTable("kit.csv", [][]string{{"Name", "Weight"}, {}, {"Wide\n18", "1,2\tkg", "x\xff"}})
	for _, c := range []struct {
		row, cell  int
		text, want string
	}{
		{0, 1, "Weight", "kit.csv:1:2"},
		{2, 0, "Wide 18", "kit.csv:3:1"},
		{2, 1, "1,2 kg", "kit.csv:3:2"},
		{2, 2, "x\uFFFD", "kit.csv:3:3"},
	} {
		span := places[c.row][c.cell]
		if span.Text() != c.text || span.String() != c.want {
			t.Errorf("cell %d,%d: got %q at %s, want %q at %s", c.row, c.cell, span.Text(), span, c.text, c.want)
		}
	}
	if src.Lines() != 4 {
		t.Errorf("got %d lines, want one for each row and the end", src.Lines())
	}
}
