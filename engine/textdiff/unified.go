// Package textdiff compares texts line by line: which lines of two versions are the same, and what
// changed as a unified diff.
package textdiff

import (
	"fmt"
	"strings"
)

// around is how many lines that did not change a hunk shows before and behind each change.
const around = 3

// noEnd is the remark below a last line that has no end, as patch and git know it.
const noEnd = "\n\\ No newline at end of file\n"

// Lines cuts a text into lines with their ends; the last one may have none.
func Lines(text string) []string {
	list := strings.SplitAfter(text, "\n")
	if last := len(list) - 1; list[last] == "" {
		list = list[:last]
	}
	return list
}

// A change is a run of lines of one text that another run takes the place of; one of them may be empty.
type change struct{ from, to, newFrom, newTo int }

// changes gives what differs between two lists of lines, in their order.
func changes(a, b []string) []change {
	at := append(Align(a, b), len(b)) // both end alike
	var list []change
	for i, j := 0, 0; i <= len(a); i, j = i+1, j+1 {
		start := i
		for at[i] < 0 {
			i++
		}
		if i > start || at[i] > j {
			list = append(list, change{start, i, j, at[i]})
		}
		j = at[i]
	}
	return list
}

// Unified gives what changes from one text to another as a unified diff with three lines around each
// change, which patch and git apply. The names are written as they stand. "" says that nothing changes.
func Unified(oldName, old, newName, new string) string {
	if old == new {
		return ""
	}
	a, b := Lines(old), Lines(new)
	var out strings.Builder
	fmt.Fprintf(&out, "--- %s\n+++ %s\n", oldName, newName)
	show := func(mark string, lines []string) {
		for _, line := range lines {
			out.WriteString(mark + line)
			if !strings.HasSuffix(line, "\n") {
				out.WriteString(noEnd)
			}
		}
	}
	for rest := changes(a, b); len(rest) > 0; {
		n := 1 // changes so near each other that one hunk shows them
		for n < len(rest) && rest[n].from-rest[n-1].to <= 2*around {
			n++
		}
		first, last := rest[0], rest[n-1]
		before, behind := min(around, first.from), min(around, len(a)-last.to)
		fmt.Fprintf(&out, "@@ -%s +%s @@\n", span(first.from-before, last.to+behind), span(first.newFrom-before, last.newTo+behind))
		at := first.from - before
		for _, c := range rest[:n] {
			show(" ", a[at:c.from])
			show("-", a[c.from:c.to])
			show("+", b[c.newFrom:c.newTo])
			at = c.to
		}
		show(" ", a[at:at+behind])
		rest = rest[n:]
	}
	return out.String()
}

// span writes which lines of a text a hunk shows, counted from 1; for none, the line before them.
func span(from, to int) string {
	if from < to {
		return fmt.Sprintf("%d,%d", from+1, to-from)
	}
	return fmt.Sprintf("%d,0", from)
}
