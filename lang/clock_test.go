package lang

import "testing"

type clock struct{ hour, minute int }

func (c *clock) DecodeArgs(args *Args) { c.hour, c.minute = args.Clock() }

func TestClock(t *testing.T) {
	for _, c := range []struct {
		text string
		want clock
		code Code // of the fault; "" when there is none
	}{
		{"at 18:40", clock{18, 40}, ""},
		{"at 00:00", clock{0, 0}, ""},
		{"at 7:05", clock{7, 5}, ""},
		{"at 24:00", clock{}, WrongKind},
		{"at 18:60", clock{}, WrongKind},
		{"at 18:4", clock{}, WrongKind},
		{"at 18", clock{}, WrongKind},
		{"at noon", clock{}, WrongKind},
		{"at -1:30", clock{}, WrongKind},
		{"at 18:40 19:00", clock{18, 40}, ExtraValue},
		{"at", clock{}, MissingValue},
	} {
		t.Run(c.text, func(t *testing.T) {
			src, _ := NewSource("test", []byte(c.text))
			file, _ := Parse(src)
			var got struct {
				At clock `lang:"at"`
			}
			ds := Decode(file, &got)
			if got.At != c.want {
				t.Errorf("got %v, want %v", got.At, c.want)
			}
			if c.code == "" && len(ds) > 0 || c.code != "" && (len(ds) != 1 || ds[0].Code != c.code) {
				t.Errorf("got %v, want the fault %q", ds, c.code)
			}
		})
	}
}
