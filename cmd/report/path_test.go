package report

import "testing"

// A line of which nobody sees more than its start has no step: an "l" without numbers is a fault.
func TestPathWithoutSteps(t *testing.T) {
	for _, c := range []struct {
		places []point
		want   string
	}{
		{[]point{{74, 73.9}, {74.1, 73.9}}, "M74 73.9Z"},
		{[]point{{74, 73.9}, {75, 73.9}, {75, 72}}, "M74 73.9l1 0 0-1.9Z"},
	} {
		var p path
		p.closed(c.places...)
		if got := p.String(); got != c.want {
			t.Errorf("%v is drawn as %s, want %s", c.places, got, c.want)
		}
	}
}
