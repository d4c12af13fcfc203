package lang

import (
	"errors"
	"math"
	"testing"
)

// fault gives the code and place of the only finding of an error.
func fault(t *testing.T, err error) (code Code, at string) {
	t.Helper()
	var ds Diagnostics
	if !errors.As(err, &ds) || len(ds) != 1 {
		t.Fatalf("got %v, want one finding", err)
	}
	return ds[0].Code, ds[0].Span.Text()
}

func TestParseQuantityFaults(t *testing.T) {
	for _, c := range []struct {
		text string
		code Code
		at   string
	}{
		{"", MissingValue, ""},
		{"35", MissingUnit, "35"},
		{"35kg", WrongDimension, "35kg"},
		{"35 mmm", UnknownUnit, "mmm"},
		{"mm", WrongKind, "mm"},
		{`"35mm"`, WrongKind, `"35mm"`},
		{"35mm 50mm", ExtraValue, "50mm"},
		{"35mm..50mm", WrongKind, "35mm..50mm"},
		{"1e3", BadNumber, "e3"},
		{"35mm {", UnexpectedText, "{"},
		{"35mm\n50mm", MissingValue, ""},
		{"1/0mm", BadNumber, "/0"},
		{"\xff", NotText, ""},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, err := ParseQuantity("--focal", c.text, Length)
			if code, at := fault(t, err); code != c.code || at != c.at {
				t.Errorf("got %s at %q, want %s at %q", code, at, c.code, c.at)
			}
		})
	}
}

func TestParseSizeIntervalRatio(t *testing.T) {
	size, err := ParseSize("--sensor", "36mm x 24mm", Length)
	if err != nil || math.Abs(size.Width.Value-0.036) > 1e-15 || math.Abs(size.Height.Value-0.024) > 1e-15 || size.Depth.Known() || !size.Known() {
		t.Errorf("size: got %+v, %v", size, err)
	}
	if size, err = ParseSize("--box", "1m x 2m x 3m", Length); err != nil || size.Depth.Value != 3 {
		t.Errorf("box: got %+v, %v", size, err)
	}
	interval, err := ParseInterval("--range", "1.5m..3m", Length)
	if err != nil || interval.Low.Value != 1.5 || interval.High.Value != 3 {
		t.Errorf("interval: got %+v, %v", interval, err)
	}
	if interval, err = ParseInterval("--range", "..3m", Length); err != nil || interval.Low.Known() || !interval.Known() {
		t.Errorf("open interval: got %+v, %v", interval, err)
	}
	ratio, err := ParseRatio("--deliver", "2.39:1")
	if err != nil || math.Abs(ratio.Value-2.39) > 1e-15 || !ratio.Known() {
		t.Errorf("ratio: got %+v, %v", ratio, err)
	}
	if ratio, err = ParseRatio("--squeeze", "1.33"); err != nil || ratio.Value != 1.33 {
		t.Errorf("plain ratio: got %+v, %v", ratio, err)
	}
	for _, c := range []struct {
		name string
		err  error
		code Code
	}{
		{"size of four", second(ParseSize("x", "1m x 1m x 1m x 1m", Length)), WrongKind},
		{"size of one", second(ParseSize("x", "1m", Length)), WrongKind},
		{"size of masses", second(ParseSize("x", "1kg x 1m", Length)), WrongDimension},
		{"interval backwards", second(ParseInterval("x", "3m..1m", Length)), BadInterval},
		{"interval without a unit", second(ParseInterval("x", "1..3m", Length)), MissingUnit},
		{"size for an interval", second(ParseInterval("x", "1m x 3m", Length)), WrongKind},
		{"list for an interval", second(ParseInterval("x", "1m, 3m", Length)), WrongKind},
		{"list for a quantity", second(ParseQuantity("x", "1, 3m", Length)), WrongKind},
		{"ratio of nothing", second(ParseRatio("x", "2:0")), OutOfRange},
		{"ratio of lengths", second(ParseRatio("x", "2m:1m")), WrongDimension},
		{"ratio of words", second(ParseRatio("x", "wide")), WrongKind},
	} {
		if code, _ := fault(t, c.err); code != c.code {
			t.Errorf("%s: got %s, want %s", c.name, code, c.code)
		}
	}
}

func second[T any](_ T, err error) error { return err }

type framing struct{ low, high Word }

func (f *framing) DecodeArgs(args *Args) {
	f.low, f.high = args.WordInterval("close", "medium", "wide")
}

func TestWordInterval(t *testing.T) {
	for _, c := range []struct {
		text      string
		low, high string
		code      Code // of the fault; "" when there is none
	}{
		{"close", "close", "close", ""},
		{"close..wide", "close", "wide", ""},
		{"close..wilde", "", "", UnknownWord},
		{"clos", "", "", UnknownWord},
		{"close..", "", "", WrongKind},
		{"close:wide", "", "", WrongKind},
		{`"close"`, "", "", WrongKind},
		{"2m", "", "", WrongKind},
		{"close wide", "close", "close", ExtraValue},
		{"", "", "", MissingValue},
	} {
		t.Run(c.text, func(t *testing.T) {
			src, _ := NewSource("test", []byte("frame "+c.text))
			file, _ := Parse(src)
			var got struct {
				Frame framing `lang:"frame"`
			}
			ds := Decode(file, &got)
			if c.code == "" && len(ds) > 0 || c.code != "" && (len(ds) != 1 || ds[0].Code != c.code) {
				t.Errorf("got %v, want the fault %q", ds, c.code)
			}
			if c.low != "" && (got.Frame.low.Value != c.low || got.Frame.high.Value != c.high) {
				t.Errorf("got %v, want %s..%s", got.Frame, c.low, c.high)
			}
		})
	}
}
