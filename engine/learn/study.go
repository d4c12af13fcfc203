package learn

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/engine/taste"
	"glassbrief/lang"
)

// A Study is what a taste is learned from: the choices of all files, with what there was to choose from.
type Study struct {
	Criteria []string  // that have a score, by name, in the order of the rules
	House    []float64 // the weight of each
	Shots    []*Shot   // of all scenarios, those that two lenses or more can do
	Choices  []Choice
	Said     []Said // the statement of each choice
	Of       []int  // for each choice, the place of its group among those that were added

	groups int
	weighs map[string]lang.Text // the scenario that a criterion has its weight from, by slug
}

// mostLenses is how many lenses of a shot are told apart, those that score best. Others are hardly ever
// taken, and are asked about by nobody.
const mostLenses = 200

// Add takes in the choices of a file in one scenario, of which all lenses are judged by the weights of the
// house and held so. It reports names that do not exist. A choice of a lens that cannot do the shot, or may not
// come, is warned of and left out: no taste overrules a veto.
func (s *Study) Add(held *taste.Held, group Group) lang.Diagnostics {
	r := &resolving{study: s, table: held.Table, held: held, group: group, shots: make([]*Shot, len(held.Table.Scenario.Shots))}
	r.weigh()
	for _, said := range group.Said {
		r.choice(said)
	}
	for i := range r.shots {
		if shot := r.shot(i); len(shot.Lenses) > 1 {
			s.Shots = append(s.Shots, shot)
		}
	}
	s.groups++
	return r.found
}

type resolving struct {
	study *Study
	table *engine.Table
	held  *taste.Held
	group Group
	shots []*Shot
	found lang.Diagnostics
}

// weigh takes the criteria of the scenario's rules, which must weigh what they weigh in others.
func (r *resolving) weigh() {
	s := r.study
	if s.weighs == nil {
		s.weighs = map[string]lang.Text{}
	}
	for _, c := range r.table.Scenario.Rules.Criteria() {
		if len(c.Scores) == 0 {
			continue
		}
		key := rules.Slug(c.Name)
		at := s.place(key)
		switch {
		case at < 0:
			s.Criteria, s.House = append(s.Criteria, c.Name), append(s.House, c.Weight)
			s.weighs[key] = r.group.Scenario
			for _, shot := range s.Shots {
				for lens := range shot.Logs {
					shot.Logs[lens] = append(shot.Logs[lens], 0)
				}
			}
		case s.House[at] != c.Weight:
			r.found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: r.group.Scenario.Span,
				Summary: fmt.Sprintf("the criterion %q weighs %g in this scenario, and %g in another", c.Name, c.Weight, s.House[at]),
				Detail:  "A taste is learned around one weight of each criterion. Learn from these choices apart.",
				Related: []lang.Related{{Span: s.weighs[key].Span, Note: "the other is this one"}},
			})
		}
	}
}

// place gives the place of a criterion by its slug, or -1.
func (s *Study) place(slug string) int {
	return slices.IndexFunc(s.Criteria, func(name string) bool { return rules.Slug(name) == slug })
}

// shot gives what there is to choose from in a shot of the scenario.
func (r *resolving) shot(i int) *Shot {
	if r.shots[i] == nil {
		r.shots[i] = r.study.shot(r.held, i, r.named(i))
	}
	return r.shots[i]
}

// named gives the places of the lenses that choices in a shot name.
func (r *resolving) named(shot int) map[int]bool {
	all := map[int]bool{}
	for _, said := range r.group.Said {
		if said.Shot.Value == r.table.Scenario.Shots[shot].ID {
			for _, lens := range append([]lang.Text{said.Lens}, said.Over...) {
				all[r.table.Place(lens.Value)] = true
			}
		}
	}
	return all
}

// choice resolves one statement.
func (r *resolving) choice(said Said) {
	at := slices.IndexFunc(r.table.Scenario.Shots, func(shot *brief.Shot) bool { return shot.ID == said.Shot.Value })
	if at < 0 {
		ids := make([]string, len(r.table.Scenario.Shots))
		for i, shot := range r.table.Scenario.Shots {
			ids[i] = shot.ID
		}
		r.unknown(said.Shot, fmt.Sprintf("%q has no shot %q", r.group.Scenario.Value, said.Shot.Value), fmt.Sprintf("The shots are %s.", lang.Quoted(ids)), ids)
		return
	}
	if !r.known(said.Lens) || slices.ContainsFunc(said.Over, func(lens lang.Text) bool { return !r.known(lens) }) {
		return
	}
	shot := r.shot(at)
	lens := slices.Index(shot.Lenses, said.Lens.Value)
	if lens < 0 {
		r.out(at, said.Lens, "This choice counts for nothing: a taste never overrules a veto or a limit. Change the brief or the rules if the lens is to come.")
		return
	}
	choice := Choice{Shot: shot, Lens: lens}
	for _, other := range said.Over {
		switch k := slices.Index(shot.Lenses, other.Value); {
		case k < 0:
			r.out(at, other, "It counts for nothing that another was taken over it.")
		case k == lens:
			r.warn(other, fmt.Sprintf("%q is taken over itself", other.Value), "Name another lens behind \"over\".")
		default:
			choice.Over = append(choice.Over, k)
		}
	}
	switch {
	case said.Over == nil && len(shot.Lenses) > 1, len(choice.Over) > 0:
		r.study.Choices, r.study.Said = append(r.study.Choices, choice), append(r.study.Said, said)
		r.study.Of = append(r.study.Of, r.study.groups)
	case said.Over == nil:
		r.warn(said.Lens, fmt.Sprintf("no other lens can do shot %q", said.Shot.Value), "So this choice tells nothing of a taste, and counts for nothing.")
	}
}

// known says whether the catalogue has a lens, and reports one that it lacks.
func (r *resolving) known(lens lang.Text) bool {
	if r.table.Place(lens.Value) >= 0 {
		return true
	}
	r.unknown(lens, fmt.Sprintf("there is no lens %q", lens.Value), "\"glassbrief catalog list\" shows the names.", r.table.Scenario.Catalogue.Lenses.Names())
	return false
}

func (r *resolving) unknown(name lang.Text, summary, detail string, known []string) {
	r.found.Add(lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: name.Span, Summary: summary, Detail: detail, Instead: lang.Nearest(name.Value, known),
	})
}

func (r *resolving) warn(at lang.Text, summary, detail string) {
	r.found.Add(lang.Diagnostic{Severity: lang.Warning, Code: lang.Contradiction, Span: at.Span, Summary: summary, Detail: detail})
}

// out warns of a lens that nobody can choose in a shot.
func (r *resolving) out(shot int, lens lang.Text, detail string) {
	place, id := r.table.Place(lens.Value), r.table.Scenario.Shots[shot].ID
	j := r.table.Explain(shot, place)
	summary := fmt.Sprintf("%q cannot do shot %q", lens.Value, id)
	switch {
	case j.Refusal != "":
		summary += ": " + j.Refusal
	case j.Standing == engine.Undecided:
		summary = fmt.Sprintf("too little is known of %q to choose it in shot %q", lens.Value, id)
	case j.KeptOut.By != "" && j.Standing == engine.Judged:
		summary = fmt.Sprintf("%q may not come: %q keeps it out", lens.Value, j.KeptOut.By)
	default:
		if vetoes := j.Vetoes(); len(vetoes) > 0 {
			summary += ": " + vetoes[0].In(lang.Printer{})
		}
	}
	r.warn(lens, summary, detail)
}

// shot gives what there is to choose from in a shot of a table: the lenses that can do it and may come.
// The named ones are there however little they score.
func (s *Study) shot(held *taste.Held, i int, named map[int]bool) *Shot {
	table := held.Table
	shot := &Shot{ID: table.Scenario.Shots[i].ID}
	var able []int
	for j := range table.Lenses() {
		if table.Outcome(i, j).Acceptable() && table.KeptOut(j).By == "" {
			able = append(able, j)
		}
	}
	if len(able) > mostLenses {
		slices.SortStableFunc(able, func(a, b int) int { return cmp.Compare(table.Outcome(i, b).Score, table.Outcome(i, a).Score) })
		rest := slices.DeleteFunc(slices.Clone(able[mostLenses:]), func(j int) bool { return !named[j] })
		able = append(able[:mostLenses:mostLenses], rest...)
		slices.Sort(able)
	}
	aspects := make([]*rules.Unweighed, len(able))
	for k, j := range able {
		aspects[k] = held.At(i, j)
		shot.Lenses = append(shot.Lenses, table.Lenses()[j].Name.Value)
	}
	shot.Logs = s.logs(held, aspects)
	return shot
}

// logs gives what each criterion adds to the worth of some lenses in a shot for a weight of 1.
//
// By the weights of the house, the worth of a lens is the logarithm of its score times the weight of all
// criteria that count in the shot, so that lenses are worth what they score. What weights do not move,
// which is limits and what the brief prefers, is shared out among those criteria evenly, and counts in the
// same proportion whatever the weights are. A criterion that has no score for one lens and has one for
// another stands for it where its mean of the others stands.
func (s *Study) logs(held *taste.Held, of []*rules.Unweighed) [][]float64 {
	n := len(s.Criteria)
	logs := make([][]float64, len(of)) // NaN where there is no score
	counts := make([]bool, n)
	wishes, weight := 0, 0.0
	for k, u := range of {
		logs[k] = slices.Repeat([]float64{math.NaN()}, n)
		for i := range u.Aspects {
			a := &u.Aspects[i]
			if !a.Applies || a.Scores == 0 {
				continue
			}
			if i >= len(held.Criteria) {
				wishes = max(wishes, a.Scores)
				continue
			}
			c := s.place(rules.Slug(held.Criteria[i].Name))
			if logs[k][c] = a.Log; !counts[c] {
				counts[c], weight = true, weight+s.House[c]
			}
		}
	}
	for k, u := range of {
		worth := math.Log(u.Judge(nil).Score)
		mean := worth - math.Log(u.Limit)
		rest := (weight + float64(wishes)) * worth
		for c := range counts {
			switch {
			case !counts[c]:
				logs[k][c] = 0
				continue
			case math.IsNaN(logs[k][c]):
				logs[k][c] = mean
			}
			rest -= s.House[c] * logs[k][c]
		}
		for c := range counts {
			if counts[c] {
				logs[k][c] += rest / weight
			}
		}
	}
	return logs
}
