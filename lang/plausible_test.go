package lang

import (
	"reflect"
	"strings"
	"testing"
)

type plausibleFile struct {
	Height  Quantity  `lang:"height,dim=length,usual=50cm..230cm,possible=25cm..350cm"`
	Ratio   Ratio     `lang:"ratio,usual=1:3..4,possible=1:20..20"`
	Share   Quantity  `lang:"share,dim=plain,usual=0%..30%,possible=0%..50%"`
	Price   Quantity  `lang:"price,dim=money,usual=1..5000,possible=0.01..100000"`
	Between Interval  `lang:"between,dim=length,usual=30cm..200m,possible=1cm..100km"`
	Several List      `lang:"several,dim=stops,usual=1/3 stops..12 stops,possible=0.01 stops..60 stops"`
	Area    Size      `lang:"area,dim=length,usual=2mm..80mm,possible=0.1mm..1m"`
	Own     ownReader `lang:"own,usual=0m/s..20m/s|-400deg/s..400deg/s,possible=0m/s..100m/s|-2000deg/s..2000deg/s"`
}

// ownReader reads a speed and a speed of turning.
type ownReader struct{ speed, turn Quantity }

func (o *ownReader) DecodeArgs(args *Args) {
	o.speed = args.Quantity(Speed)
	o.turn = args.Quantity(AngularSpeed)
}

func TestPlausible(t *testing.T) {
	for _, c := range []struct {
		line     string
		severity Severity // 0 for no finding
		at       string
		instead  string
	}{
		{"height 178cm", 0, "", ""},
		{"height 230cm", 0, "", ""}, // 230 times 0.01 is not 2.3 in binary
		{"height 3m", Warning, "3m", ""},
		{"height 168m", Error, "168m", "168cm"},
		{"height 1.68mm", Error, "1.68mm", "1.68m"},
		{"height 17.8cm", Error, "17.8cm", ""}, // 17.8m and 17.8mm are no better
		{"height 30ft", Error, "30ft", ""},
		{"height 0m", Error, "0m", ""},
		{"ratio 2.39:1", 0, "", ""},
		{"ratio 1:500", Error, "1:500", ""},
		{"ratio 6", Warning, "6", ""},
		{"share 10", Error, "10", "10%"},
		{"share 10%", 0, "", ""},
		{"price 9000 EUR", Warning, "9000 EUR", ""},
		{"between 280cm..2800m", Warning, "2800m", "2800cm"},
		{"between ..9000km", Error, "9000km", ""},
		{"several 2, 4, 16 stops", Warning, "16 stops", ""},
		{"several 2, 400, 6 stops", Error, "400", ""}, // has no unit of its own
		{"area 360mm x 24mm", Warning, "360mm", ""},
		{"area 36cm x 24mm", Warning, "36cm", "36mm"},
		{"own 1.2m/s 8deg/s", 0, "", ""},
		{"own 1.2m/s 900deg/s", Warning, "900deg/s", ""},
		{"own 1200m/s 8deg/s", Error, "1200m/s", ""},
	} {
		src, _ := NewSource("test", []byte(c.line))
		file, ds := Parse(src)
		var into plausibleFile
		ds = append(ds, Decode(file, &into)...)
		switch {
		case c.severity == 0 && len(ds) == 0:
		case len(ds) != 1:
			t.Errorf("%s: got %v, want one finding or none", c.line, ds)
		case ds[0].Severity != c.severity || ds[0].Span.Text() != c.at || ds[0].Instead != c.instead:
			t.Errorf("%s: got %s at %q, instead %q; want %s at %q, instead %q", c.line,
				ds[0].Severity, ds[0].Span.Text(), ds[0].Instead, c.severity, c.at, c.instead)
		case !strings.Contains(ds[0].Detail, " to "):
			t.Errorf("%s: %q does not say what is plausible", c.line, ds[0].Detail)
		}
	}
}

func TestUnboundedFindsThem(t *testing.T) {
	type inner struct {
		Mass  Quantity `lang:"mass,dim=mass,usual=1g..2g"`
		Named Text     `lang:"named"`
	}
	type outer struct {
		Sizes  []Size      `lang:"size,dim=length"`
		Good   Quantity    `lang:"good,dim=length,possible=1m..2m"`
		Inner  []inner     `lang:"inner"`
		Reads  ownReader   `lang:"reads"`
		Checks []ownReader `lang:"checks,own"`
	}
	got := strings.Join(Unbounded(reflect.TypeFor[outer]()), " ")
	if want := "inner.Mass outer.Reads outer.Sizes"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
