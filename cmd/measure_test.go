package cmd_test

import (
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"glassbrief/cmd/browsertest"
)

// drawnLengths gives lengths in the page as shares of others beside them: of each shot the focus mark
// between the limits of what is sharp on the ring, what is sharp, where to walk and what the lens leaves
// free against the way of the subject in the plan, the circle of an orbit, the passage, and the bar of
// its score. A share of less than 30 px says nothing within half a per cent.
const drawnLengths = `(() => {
	const all = {};
	const box = (of, what) => of.querySelector(what)?.getBBox();
	const say = (name, part, whole) => { if (part >= 30 && whole >= 30) all[name] = part / whole; };
	for (const s of document.querySelectorAll(".shot")) {
		const id = s.querySelector(".id").textContent;
		const sharp = box(s, "rect.sharp.chosen"), mark = box(s, ".mark");
		if (sharp && sharp.x > 41) say(id + " mark", mark.x - sharp.x, sharp.width);
		const need = box(s, ".is-need");
		for (const kind of ["sharp", "walk", "room"]) {
			const line = s.querySelector(".is-" + kind);
			if (line && (line.getAttribute("d").match(/v6/g) ?? []).length == 2) say(id + " " + kind, line.getBBox().width, need.width);
		}
		const circle = box(s, ".floor"), room = box(s, ".is-room");
		if (circle) say(id + " circle", circle.width / 2, room.width);
		const taken = box(s, ".taken");
		if (taken) say(id + " passage", taken.width, [...s.querySelectorAll("rect.solid")].map(r => r.getBBox()).reduce((l, r) => r.x - l.width));
	}
	document.querySelectorAll(".mx tbody tr").forEach(row => [...row.querySelectorAll("td")].forEach((cell, i) => {
		if (cell.querySelector(".plate")) say(document.querySelectorAll(".mx thead th")[i + 1].textContent + " score", box(cell, "rect").width, cell.querySelector(".s").getBoundingClientRect().width);
	}));
	return all;
})()`

// What is drawn is as long as JSON says, within half a per cent.
func TestDrawingsAreAsLongAsJSONSays(t *testing.T) {
	type setup struct {
		Focus  float64  `json:"focus_at_m"`
		Near   float64  `json:"near_m"`
		Far    float64  `json:"far_m"`
		Start  float64  `json:"start_m"`
		End    float64  `json:"end_m"`
		Walk0  *float64 `json:"walk_near_m"`
		Walk1  *float64 `json:"walk_far_m"`
		Room   float64  `json:"lens_room_m"`
		Circle *float64 `json:"circle_m"`
		Gap    *float64 `json:"passage_m"`
		Needs  float64  `json:"passage_needs_m"`
	}
	var cards struct {
		Cards []struct {
			Shot  string
			Setup setup
		}
	}
	var plan struct {
		Shots []struct {
			ID      string
			Lens    string
			Ranking []struct {
				Lens  string
				Score float64
			}
		}
	}
	const demo = "../scenarios/night-ferry.scenario"
	file := filepath.Join(t.TempDir(), "plan.html")
	run(t, "recommend", demo, "-o", file)
	for verb, into := range map[string]any{"cards": &cards, "recommend": &plan} {
		_, text := run(t, verb, "--as", "json", demo)
		if err := json.Unmarshal([]byte(text), into); err != nil {
			t.Fatal(err)
		}
	}
	want := map[string]float64{}
	for _, card := range cards.Cards {
		s := card.Setup
		way := math.Abs(s.Start - s.End)
		want[card.Shot+" mark"] = (1/s.Focus - 1/s.Far) / (1/s.Near - 1/s.Far)
		want[card.Shot+" sharp"] = (s.Far - s.Near) / way
		want[card.Shot+" room"] = s.Room / way
		if s.Walk0 != nil && s.Walk1 != nil {
			want[card.Shot+" walk"] = (*s.Walk1 - *s.Walk0) / way
		}
		if s.Circle != nil {
			want[card.Shot+" circle"] = *s.Circle / s.Room
		}
		if s.Gap != nil {
			want[card.Shot+" passage"] = s.Needs / *s.Gap
		}
	}
	for _, shot := range plan.Shots {
		for _, j := range shot.Ranking {
			if j.Lens == shot.Lens {
				want[shot.ID+" score"] = j.Score
			}
		}
	}
	page := browsertest.Start(t).Open(t, "file://"+file, 1280, "light")
	browsertest.Eval[any](page, `document.querySelectorAll("details").forEach(d => d.open = true)`)
	got := browsertest.Eval[map[string]float64](page, drawnLengths)
	kinds := map[string]bool{}
	for name, share := range got {
		var id, kind string
		fmt.Sscan(name, &id, &kind)
		kinds[kind] = true
		const most = 0.005
		if off := math.Abs(share/want[name] - 1); !(off <= most) {
			t.Errorf("%s: %.5f of what is beside it in the page, and %.5f by JSON", name, share, want[name])
		}
	}
	if len(got) < 20 || len(kinds) < 7 {
		t.Errorf("%d lengths of %d kinds are measured: %v", len(got), len(kinds), got)
	}
}
