package report_test

import (
	"bytes"
	"os"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/engine"
	"glassbrief/engine/days"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/schedule"
)

// daysHTML writes the page of the demo of a shoot, with a name that would be mark-up in it.
func daysHTML(t *testing.T) (string, *schedule.Answer) {
	t.Helper()
	s := enginetest.ReadFile(t, os.DirFS("../../scenarios"), "salt-works.scenario")
	shoot, err := schedule.New(t.Context(), s, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	shoot.Units[0].Name = "A<i>"
	plan, err := shoot.Plan(t.Context(), schedule.Variant{}, days.Solver{})
	if err != nil {
		t.Fatal(err)
	}
	var words show.Page
	words.Heading("Salt works")
	words.Paragraph("All of it.")
	var b bytes.Buffer
	a := &schedule.Answer{Shoot: shoot, Plan: plan}
	if err := (report.Writer{}).Days(&b, words, a); err != nil {
		t.Fatal(err)
	}
	return b.String(), a
}

// Every shot that is done stands on the clock of its day, once.
func TestDaysAreDrawn(t *testing.T) {
	page, a := daysHTML(t)
	for _, shot := range a.Scenario.Shots {
		if n := strings.Count(page, `title="`+shot.ID+" "); n != 1 {
			t.Errorf("shot %s stands %d times on the clock, want once", shot.ID, n)
		}
	}
	if strings.Contains(page, "<i>") || strings.Contains(page, "ZgotmplZ") {
		t.Error("a name is mark-up, or a place is none")
	}
}

func TestDaysInABrowser(t *testing.T) {
	page, _ := daysHTML(t)
	checkPage(t, browsertest.Start(t), "days", page, everyLook...)
}
