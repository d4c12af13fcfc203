package report_test

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"glassbrief/cmd/report"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang"
)

// answersOf recommends for a scenario on each of its cameras.
func answersOf(t testing.TB, text string) []*engine.Recommendation {
	t.Helper()
	s := enginetest.Read(t, text, brief.Files{Tree: os.DirFS("../../scenarios")})
	var answers []*engine.Recommendation
	for _, camera := range s.Cameras {
		answers = append(answers, enginetest.Recommend(t, s, engine.Options{Camera: camera.Name.Value, Runners: 2}))
	}
	return answers
}

func demo(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// around adds what stands beside the first of several answers.
func around(t testing.TB, answers []*engine.Recommendation) *answer.Answer {
	t.Helper()
	whole, err := answer.Around(t.Context(), answers[0])
	if err != nil {
		t.Fatal(err)
	}
	if len(answers) == 1 {
		whole.Cameras = nil
	}
	if err := errors.Join(whole.HowSure(t.Context(), 100, nil), whole.WhatHurts(t.Context(), nil), whole.WhatFirst(t.Context(), nil)); err != nil {
		t.Fatal(err)
	}
	return whole
}

func htmlOf(t testing.TB, answers []*engine.Recommendation, p lang.Printer) string {
	t.Helper()
	var b bytes.Buffer
	if err := (report.Writer{Printer: p}).Recommendation(&b, around(t, answers)); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// hostile is a scenario whose names try to be mark-up, or to turn the text round.
const hostile = `use demo
scenario "<script>alert('x')</script> & \"q\"" {
  camera "House body A"
  rig    "Short sled"
}
shot "<b>1</b>" "\"><img src=x onerror=alert(1)> ` + "\u200f" + ` מצלמה 甲板 👩‍🚀" {
  subject  person 1.78m
  frame    medium-full
  distance 1.6m..2.8m
  light    320lx
}
shot "שוט" "{{.Title}} </title></style><svg onload=alert(2)>" {
  subject  object 0.5m
  frame    full
  distance 1.5m
}
`

func TestReportIsOneFileWithoutScript(t *testing.T) {
	for name, text := range map[string]string{"demo": demo(t), "hostile": hostile} {
		got := htmlOf(t, answersOf(t, text), lang.Printer{})
		for _, never := range []string{"<script", "<img", "onload=alert(2)>", "http://", "https://", "url(http", "@import", "ZgotmplZ", "NaN", "Inf", "%!"} {
			if strings.Contains(got, never) {
				t.Errorf("%s: the report contains %q", name, never)
			}
		}
		if want := `content="default-src 'none'; style-src 'unsafe-inline'"`; !strings.Contains(got, want) {
			t.Errorf("%s: the report does not forbid itself the network by %s", name, want)
		}
	}
}

func TestReportIsTheSameEveryTime(t *testing.T) {
	first := htmlOf(t, answersOf(t, demo(t)), lang.Printer{})
	if second := htmlOf(t, answersOf(t, demo(t)), lang.Printer{}); first != second {
		t.Error("two runs differ")
	}
}
