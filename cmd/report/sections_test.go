package report_test

import (
	"bytes"
	"html/template"
	"strings"
	"testing"

	"glassbrief/cmd/report"
)

// A page on which figures can be tried is the report, with controls between its parts; and each part
// drawn alone is the one of the page.
func TestTrialHoldsThePartsOfTheReport(t *testing.T) {
	answer := around(t, answersOf(t, demo(t))[:1])
	trial := &report.Trial{Policy: "default-src 'none'", Look: "b{}", Head: "<!--head-->", House: "<!--house-->", Lines: "<!--lines-->", End: "<!--end-->"}
	for _, shot := range answer.Shots {
		trial.Shots = append(trial.Shots, template.HTML("<!--"+shot.Shot.ID+"-->"))
	}
	written := func(w report.Writer) string {
		var b bytes.Buffer
		if err := w.Recommendation(&b, answer); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	page, plain := written(report.Writer{Trial: trial}), written(report.Writer{})
	for _, want := range []string{`content="default-src &#39;none&#39;"`, "b{}</style>", "<!--head-->\n</head>", "<!--house-->", "<!--lines-->", "<!--end-->\n</body>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	s := report.Writer{}.Sections(answer)
	for i, shot := range answer.Shots {
		var part [2]bytes.Buffer
		if err := s.Stands(&part[0], i); err != nil {
			t.Fatal(err)
		}
		if err := s.Behind(&part[1], i); err != nil {
			t.Fatal(err)
		}
		between := "</div>\n<!--" + shot.Shot.ID + "-->\n"
		head, rest, _ := strings.Cut(page, between)
		if !strings.HasSuffix(head, part[0].String()) || !strings.Contains(rest, part[1].String()+"</div>") {
			t.Errorf("the parts of %s do not stand around its controls", shot.Shot.ID)
		}
		if !strings.Contains(plain, part[0].String()+"\n"+part[1].String()) {
			t.Errorf("the parts of %s are not those of the report", shot.Shot.ID)
		}
	}
	for name, write := range map[string]func(*bytes.Buffer) error{
		"top":      func(b *bytes.Buffer) error { return s.Top(b) },
		"matrix":   func(b *bytes.Buffer) error { return s.Matrix(b) },
		"cautions": func(b *bytes.Buffer) error { return s.Cautions(b) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		if b.Len() == 0 || !strings.Contains(page, `">`+b.String()+"</div>") || !strings.Contains(plain, b.String()) {
			t.Errorf("%s is not a part of both pages", name)
		}
	}
	var now bytes.Buffer
	if err := s.Now(&now); err != nil {
		t.Fatal(err)
	}
	for _, lens := range answer.Kit.Lenses {
		if !strings.Contains(now.String(), "<bdi>"+lens+"</bdi>") {
			t.Errorf("the kit in small lacks %s: %s", lens, now.String())
		}
	}
}
