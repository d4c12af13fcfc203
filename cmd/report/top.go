package report

import (
	"slices"
	"strings"
	"unicode/utf8"

	"glassbrief/catalog"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// A top is what the first screen of a page says: what to bring, what of it is not done as asked, and
// the day.
type top struct {
	Run     []string // what the lenses go on
	Bring   string   // in place of the lenses where there are none
	Kit     []kitLens
	Sum     string
	Faults  []shortfall
	More    []shortfall // behind so many that a screen is full of them
	Day     []dayShot
	Changes string
	OneDay  string // that days and units are planned elsewhere; "" for a brief without them
	InAll   string
	Key     string // what a tilde means; "" where there is none
}

// A kitLens is a lens of the kit with the shots that it takes, and what it is there for.
type kitLens struct {
	Name   string
	Plate  place
	Shots  []dayShot
	Reason string
}

// Size is how many characters a name has, for type that fills its plate.
func (k kitLens) Size() int { return max(5, utf8.RuneCountInString(k.Name)) }

// A place is that of a lens in the kit, from 1, by which its plate looks; 0 for a lens that is not of it.
type place int

// plates is how many lenses have a plate of their own; more take them by turns.
const plates = 4

func plateOf(kit []string, lens string) place {
	i := slices.Index(kit, lens)
	if i < 0 {
		return 0
	}
	return place(i%plates + 1)
}

// A shortfall is what a shot lacks of being done as asked.
type shortfall struct {
	dayShot
	Says string
	Bad  bool // it is not done, in part or poor
}

// A dayShot is a shot in the course of the day: the plate of its lens, and the worst of its lanes.
type dayShot struct {
	ID, Lens, Verdict string
	Index             int // of its section on the page, from 1; 0 where it has none
	Plate             place
	Minutes           string // that the change of lens before it takes; "" for none
	Changed           bool   // in a comparison
	Pieces            []lanePiece
}

// shownFaults is how many faults the first screen holds.
const shownFaults = 5

func newTop(a *answer.Answer, day []dayShot, p lang.Printer) top {
	r := a.Recommendation
	t := top{
		Run: runOf(r.Camera, r.Scenario), Sum: wording.Wholeness(r) + wording.CutShort(r), Day: day,
		Changes: wording.ChangesInShort(a, p), OneDay: wording.OneDay(r.Scenario), InAll: strings.TrimSuffix(wording.InAll(r, p), ".") + wording.HowSure(a.Figures) + ".",
	}
	if len(r.Kit.Lenses) == 0 {
		t.Bring, t.Sum, t.InAll = wording.Bring(r, a.Figures), "", ""
	}
	if len(r.Table.Assumed()) > 0 {
		t.Key = wording.TildeKey
	}
	t.Kit = newKit(&r.Kit, t.Day)
	for i := range t.Kit {
		t.Kit[i].Reason = wording.Purpose(r, t.Kit[i].Name)
	}
	for i := range r.Shots {
		shot := &r.Shots[i]
		said := wording.Wanting(a, shot, p)
		if said == "" {
			continue
		}
		f := shortfall{t.Day[i], said, falls(shot.Use)}
		if f.Bad && len(t.Faults) < shownFaults {
			t.Faults = append(t.Faults, f)
		} else {
			t.More = append(t.More, f)
		}
	}
	return t
}

// runOf names the camera and the rig that an answer is for.
func runOf(camera *catalog.Camera, s *brief.Scenario) []string {
	return []string{camera.Name.Value, s.Rig.Name.Value}
}

// newKit gives the lenses of a kit with the shots of the day that each takes.
func newKit(of *engine.Kit, day []dayShot) []kitLens {
	var kit []kitLens
	for _, name := range of.Lenses {
		k := kitLens{Name: name, Plate: plateOf(of.Lenses, name)}
		for i, use := range of.Uses {
			if use == name {
				k.Shots = append(k.Shots, day[i])
			}
		}
		kit = append(kit, k)
	}
	return kit
}

func newDay(r *engine.Recommendation, changes *floor.SetupChanges, p lang.Printer) []dayShot {
	day := make([]dayShot, len(r.Shots))
	minutes := map[string]string{}
	for i, said := range wording.MinutesOfChanges(changes, p) {
		minutes[changes.All[i].Before.ID] = said
	}
	for i := range r.Shots {
		shot := &r.Shots[i]
		day[i] = newDayShot(shot.Shot, shot.Use, &r.Kit)
		day[i].Index, day[i].Minutes = i+1, minutes[shot.Shot.ID]
	}
	return day
}

// newDayShot gives a shot with the lens that takes it, nil for none.
func newDayShot(shot *brief.Shot, j *engine.Judgement, kit *engine.Kit) dayShot {
	d := dayShot{ID: shot.ID, Lens: "no lens", Verdict: engine.Out.String()}
	if j != nil {
		w := floor.WayOf(j)
		d.Lens, d.Plate, d.Verdict, d.Pieces = j.Lens, plateOf(kit.Lenses, j.Lens), verdictOf(j), lanePieces(&w, w.Worst(), dayLane)
	}
	return d
}

// verdictOf gives the verdict of a shot in a word or two.
func verdictOf(j *engine.Judgement) string {
	if !j.Whole() {
		return "in part"
	}
	return j.Verdict().String()
}
