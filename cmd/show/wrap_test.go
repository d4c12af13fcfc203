package show

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestWrap(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{""}},
		{"fits", "one two", []string{"one two"}},
		{"breaks at a blank", "one two three", []string{"one two", "three"}},
		{"a line just full", "one 4567 three", []string{"one 4567", "three"}},
		{"a long word", "an overlong9word", []string{"an", "overlong", "9word"}},
		{"goes on behind a long word", "123456789 two", []string{"12345678", "9 two"}},
		{"a value stays whole", "at 2.4 m", []string{"at 2.4 m"}},
		{"a value goes on whole", "from 2.4 m", []string{"from", "2.4 m"}},
		{"with what stands behind it", "a 24 mm, b", []string{"a 24 mm,", "b"}},
		{"a value longer than a line", "12.4 degrees", []string{"12.4", "degrees"}},
		{"a fraction", "for 1 1/3 a", []string{"for", "1 1/3 a"}},
		{"feet and inches", "to 6ft 2in", []string{"to", "6ft 2in"}},
		{"a speed of the sensor", "a ISO 80", []string{"a ISO 80"}},
		{"words that are no value", "Wide 18 on", []string{"Wide 18", "on"}},
		{"wide characters do not overhang", "夜の船1夜", []string{"夜の船1", "夜"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, Wrap(test.text, 8)); diff != "" {
				t.Errorf("lines differ (-want +got):\n%s", diff)
			}
		})
	}
}
