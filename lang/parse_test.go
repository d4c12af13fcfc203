package lang

import (
	"fmt"
	"strings"
	"testing"
)

func mustParse(t *testing.T, text string) *File {
	t.Helper()
	src, ds := NewSource("test", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	file, ds := Parse(src)
	if len(ds) > 0 {
		t.Fatalf("Parse(%q): %v", text, ds)
	}
	return file
}

// outline writes syntax as compact text, so that a case is two strings.
func outline(statements []*Statement) string {
	var parts []string
	for _, s := range statements {
		line := s.Keyword.Value
		for _, v := range s.Values {
			line += " " + outlineValue(v)
		}
		if s.Expression != nil {
			line += fmt.Sprintf(" <%s>", s.Expression.Span.Text())
			if s.Expression.Because.Value != "" {
				line += fmt.Sprintf(" because %q", s.Expression.Because.Value)
			}
		}
		if s.Block != nil {
			line += " {" + outline(s.Block.Statements) + "}"
		}
		parts = append(parts, line)
	}
	return strings.Join(parts, "; ")
}

func outlineValue(v Value) string {
	join := map[Form]string{IntervalOf: "..", SizeOf: "x", RatioOf: ":", ListOf: ","}[v.Form]
	var parts []string
	for _, part := range v.Parts {
		switch part.Kind {
		case TextPart:
			parts = append(parts, fmt.Sprintf("%q", part.Text))
		case WordPart:
			parts = append(parts, part.Text)
		case NumberPart:
			parts = append(parts, fmt.Sprintf("%.6g[%s]", part.Quantity.Value, part.Quantity.Unit))
		case Absent:
			parts = append(parts, "")
		case BadPart:
			parts = append(parts, "?")
		}
	}
	return strings.Join(parts, join)
}

func TestParse(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", ""},
		{"comments only", "// one\n\n  // two", ""},
		{"values", `camera "A" or "B"`, `camera "A" or "B"`},
		{"quantity", "distance 1.6m", "distance 1.6[m]"},
		{"space before unit", "light 320 lx", "light 320[lx]"},
		{"interval", "distance 1.6m..2.8m", "distance 1.6[m]..2.8[m]"},
		{"open above", "distance 1m..", "distance 1[m].."},
		{"open below", "distance ..2m", "distance ..2[m]"},
		{"word interval", "frame close..medium-full", "frame close..medium-full"},
		{"feet and inches", "distance 5ft 10in", "distance 1.778[ft]"},
		{"feet and inches in an interval", "distance 5ft 3 1/2in..6ft", "distance 1.6129[ft]..1.8288[ft]"},
		{"size", "object 0.9m x 1.4m", "object 0.9[m]x1.4[m]"},
		{"size without blanks", "object 36mmx24mm", "object 0.036[mm]x0.024[mm]"},
		{"scene numbers are names", "scene 4A\nscene 4\nscene 110-A.2)\nscene \"4 m\"\nscene Ä1 // x", "scene 4A; scene 4; scene 110-A.2); scene \"4 m\"; scene Ä1"},
		{"scene numbers end", "a { scene 4m}\nscene 1..2\na scene 4m", "a {scene 4m}; scene 1..2[]; a scene 4[m]"},
		{"ratio", "deliver 2.39:1", "deliver 2.39[]:1[]"},
		{"list", "engraved 24, 28 , 35mm 2", "engraved 24[],28[],0.035[mm] 2[]"},
		{"list of texts and words", `a "x", y or z`, `a "x",y or z`},
		{"noun", "carry 2 apples", "carry 2[] apples"},
		{"stops", "aperture f/2.8..f/16 T3.1", "aperture 2.8[f/]..16[f/] 3.1[T]"},
		{"mixed fraction", "falloff 1 1/3 stops", "falloff 1.33333[stops]"},
		{"exposure value", "light EV7", "light 320[EV]"},
		{"negative exposure value", "light EV-2", "light 0.625[EV]"},
		{"shutter fraction", "shutter 1/50s", "shutter 0.02[s]"},
		{"speed and words", "move lead 1.2m/s low mode", "move lead 1.2[m/s] low mode"},
		{"money", "rent 120 EUR", "rent 120[EUR]"},
		{"a place on Earth", "at 52.37N 4.90E 33.9S", "at 0.914029[N] 0.0855211[E] -0.591667[S]"},
		{"moment", "on 2027-05-03 18:40 Europe/Amsterdam", "on 2027-05-03 18[]:40[] Europe/Amsterdam"},
		{"words joined by slashes", "in America/Argentina/Buenos_Aires // south", "in America/Argentina/Buenos_Aires"},
		{"no date", "on 2027-05-031", "on 2027[] -5[] -31[]"},
		{"block", "shot \"4A\" {\n weight 2 // twice\n}\n", `shot "4A" {weight 2[]}`},
		{"block on one line", `shot "4A" { weight 2 }`, `shot "4A" {weight 2[]}`},
		{"expression", "need a < 12% because \"so\"", `need <a < 12%> because "so"`},
		{"expression and comment", "need a < 12%  // why", "need <a < 12%>"},
		{"expression over lines", "need a <\n  12%\nweight 2", "need <a <\n  12%>; weight 2[]"},
		{"open bracket over lines", "need (a\n  < 2)\nweight 2", "need <(a\n  < 2)>; weight 2[]"},
		{"bracket never closed", "need (a\nneed b", "need <(a>; need <b>"},
		{"fact", "fact reach = near - close_focus because \"room\"", `fact reach <near - close_focus> because "room"`},
		{"expression in a block", "criterion \"x\" {\n  when a\n}", `criterion "x" {when <a>}`},
		{"escapes", `title "a \"b\" \\ c"`, `title "a \"b\" \\ c"`},
		{"carriage returns", "scene 4\r\nweight 2\r\n", "scene 4; weight 2[]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			src, ds := NewSource("test", []byte(c.text))
			if ds != nil {
				t.Fatal(ds)
			}
			file, _ := Parse(src)
			if got := outline(file.Statements); got != c.want {
				t.Errorf("Parse(%q)\n got %s\nwant %s", c.text, got, c.want)
			}
		})
	}
}
