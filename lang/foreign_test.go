package lang

import (
	"encoding/binary"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
)

type foreignFile struct {
	Uses   []Text   `lang:"use"`
	Shot   Text     `lang:"shot"`
	Height Quantity `lang:"height,dim=length"`
	Stops  Interval `lang:"distance,dim=length"`
	Names  []Text   `lang:"camera"`
}

func inUTF16(text string, order binary.AppendByteOrder, mark bool) (bytes string) {
	var b []byte
	if mark {
		b = order.AppendUint16(b, 0xFEFF)
	}
	for _, unit := range utf16.Encode([]rune(text)) {
		b = order.AppendUint16(b, unit)
	}
	return string(b)
}

// Each text gives one finding, which names what it is and says what to do.
func TestForeignText(t *testing.T) {
	plain := "use \"a.catalog\"\nheight 2m\n"
	for _, c := range []struct{ name, text, at, says, instead string }{
		{"merge", "<<<<<<< mine\nheight 2m\n=======\nheight 3m\n>>>>>>> theirs\n", "<<<<<<<", "merge is unfinished", ""},
		{"merge of three", "use \"a\"\n<<<<<<< mine\nheight 2m\n||||||| base\nheight 1m\n=======\nheight 3m\n>>>>>>> theirs\n", "<<<<<<<", "merge is unfinished", ""},
		{"the middle of a merge", plain + "=======\n", "=======", "merge is unfinished", ""},
		{"the base of a merge", plain + "||||||| base\n", "|||||||", "merge is unfinished", ""},
		{"the end of a merge", plain + ">>>>>>> theirs\n", ">>>>>>>", "merge is unfinished", ""},
		{"JSON", "{\n  \"lens\": 1\n}\n", "{", "JSON", ""},
		{"a list of JSON", "[{\"lens\": 1}]", "[", "JSON", ""},
		{"XML", "<?xml version=\"1.0\"?>\n<a/>", "<", "XML", ""},
		{"UTF-16", inUTF16(plain, binary.LittleEndian, true), "", "UTF-16", ""},
		{"UTF-16, the other order", inUTF16(plain, binary.BigEndian, true), "", "UTF-16", ""},
		{"UTF-16 without a mark", inUTF16(plain, binary.LittleEndian, false), "", "UTF-16", ""},
		{"UTF-16 of the other order without a mark", inUTF16(plain, binary.BigEndian, false), "", "UTF-16", ""},
		{"a workbook", "PK\x03\x04\x14\x00\x06\x00\xff\xff", "", "workbook", ""},
		{"a list", "Lens,Mount,FL\nWide,Short,18\n", "L", "a list with columns", ""},
		{"a list with semicolons", "\nObjektiv;Bajonett;Brennweite\nWeit;Kurz;18\n", "O", "a list with columns", ""},
		{"a list of shots", "shot,scene,framing\n1A,1,medium\n", "s", "a list with columns", ""},
		{"a screenplay", "Title: Ferry\n\nINT. CAR DECK - NIGHT #1#\n\nShe walks.\n", "T", "a screenplay", ""},
		{"a catalogue", "lens \"Wide\" {\n mount \"M\"\n}\n", "lens", "is a catalogue, and a scenario is wanted", ""},
		{"rules", "criterion \"x\" {\n veto a > 1\n}\n", "criterion", "is a file of rules", ""},
		{"a name", "shot Short sled\n", "Short sled", "without quotes", `"Short sled"`},
		{"a name with a number", "shot House 2 body\n", "House 2 body", "without quotes", `"House 2 body"`},
		{"names", "camera House body A or \"B\"\n", "House body A", "without quotes", `"House body A"`},
		{"a decimal comma", "height 2,4m\n", "2,4m", "decimal comma", "2.4m"},
		{"a comma of thousands", "height 2,400m\n", ",", "no meaning", ""},
		{"a list without spaces", "height 2,4,6m\n", ",", "no meaning", ""},
		{"a dash", "distance 3m-5m\n", "3m-5m", "dash between two values", "3m..5m"},
		{"a dash without a unit before it", "distance 3-5m\n", "3-5m", "dash between two values", "3m..5m"},
		{"a long dash", "distance 3m–5m\n", "–", "stands between two values", ".."},
		{"feet and inches", "height 5'3\"\n", "5'3\"", "feet and inches", "5ft 3in"},
		{"feet", "height 6'\n", "6'", "feet and inches", "6ft"},
		{"feet and inches in print", "height 5′3″\n", "5′3″", "feet and inches", "5ft 3in"},
		{"inches", "height 63\"\n", "63\"", "inches", "63in"},
	} {
		t.Run(c.name, func(t *testing.T) {
			src, ds := NewSource("test", []byte(c.text))
			if ds == nil {
				var file *File
				file, ds = Parse(src)
				ds = append(ds, Decode(file, &foreignFile{})...)
			}
			if len(ds) != 1 || ds[0].Severity != Error || ds[0].Detail == "" {
				t.Fatalf("got %v, want one error with a remedy", ds)
			}
			if d := ds[0]; d.Span.Text() != c.at || !strings.Contains(d.Summary, c.says) || d.Instead != c.instead {
				t.Errorf("got %q at %q, instead %q; want %q at %q, instead %q", d.Summary, d.Span.Text(), d.Instead, c.says, c.at, c.instead)
			}
		})
	}
}

// What only looks like it is read as ever.
func TestNoForeignText(t *testing.T) {
	for _, text := range []string{
		"use \"a\"\n// <<<<<<< mine\nheight 2m\n",
		"use \"=======\"\nheight 2m\n",
		"distance 3m..5m\n",
		"camera \"A\" or \"B\"\n",
		"// a, b, c\n// d, e, f\nuse \"a\"\n// g, h, i\n",
	} {
		src, _ := NewSource("test", []byte(text))
		file, ds := Parse(src)
		if ds = append(ds, Decode(file, &foreignFile{})...); len(ds) > 0 {
			t.Errorf("%q: got %v", text, ds)
		}
	}
}

// A file of nothing but marks costs no more than another.
func TestMarksAreBounded(t *testing.T) {
	src, _ := NewSource("test", []byte(strings.Repeat("=======\n", 100_000)))
	_, ds := Parse(src)
	if len(ds) > MaxRecorded || slices.ContainsFunc(ds, func(d Diagnostic) bool { return len(d.Related) >= len(mergeMarks) }) {
		t.Errorf("%d findings, the first with %d further places", len(ds), len(ds[0].Related))
	}
}
