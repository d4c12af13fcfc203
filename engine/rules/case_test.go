package rules

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

const casesBase = `fact reach = subject_near - close_focus because "room before the lens stops focusing"
fact grade = is_zoom ? (hired ? 20% : 50%) : 100%

criterion "light" {
  veto      short > 0 stops because "too dark by {short}"
  veto      iso > 6400
  score     1 - (hired ? 0.5 : 0.25)
}

criterion "reach" {
  when      moving
  score     rising(reach, 0m, 1m)
}

criterion "swing" {
  veto      hired and is_zoom
  limit     falling(swing, 2%, 4%) because "it swims by {swing}"
  limit     is_person ? falling(edge_stretch, 0%, 50%) : 1
}
`

func loadCases(t *testing.T, cases string) (*Set, *lang.Source, lang.Diagnostics) {
	t.Helper()
	src, found := lang.NewSource("own.rules", []byte(casesBase+cases))
	if found.HasErrors() {
		t.Fatal(found)
	}
	set, found := Load(facts.Vocabulary(), src)
	return set, src, found
}

func TestCases(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"veto", "given short 1 stop\nexpect veto \"light\"", ""},
		{"veto by its code", "given iso 12800\nexpect veto \"light-2\"\nexpect veto \"light\"", ""},
		{"no such veto", "given iso 12800\ngiven short 0 stops\nexpect veto \"light-1\"", "LOAD there is no criterion \"light-1\""},
		{"veto that is not raised", "given short 0 stops\ngiven iso 800\nexpect veto \"light\"", "\"light\" does not exclude the lens"},
		{"veto that is not known", "given iso 800\nexpect veto \"light\"", "\"light\" does not exclude the lens; not known: short"},
		{"no veto", "given short 0 stops\ngiven iso 800\nexpect no veto\nexpect no veto \"light\"", ""},
		{"a veto all the same", "given short 1 stop\nexpect no veto", "the lens is excluded by \"light\" (too dark by 1 stop)"},
		{"a veto of another", "given iso 12800\nexpect no veto \"reach\"", ""},
		{"score", "given hired false\nexpect score \"light\" 0.75\nexpect score \"light\" 70%..80%\nexpect score \"light\" 0.7..\nexpect score \"light\" 0..0.8", ""},
		{"score to two decimals", "given hired false\nexpect score \"light\" 0.754", ""},
		{"another score", "given hired true\nexpect score \"light\" 0.75", "\"light\" scores 0.5"},
		{"score past the interval", "given hired true\nexpect score \"light\" 0.6..1", "\"light\" scores 0.5"},
		{"no score", "expect score \"light\" 1", "\"light\" has no score; not known: short, iso, hired"},
		{"skip", "given moving false\nexpect skip \"reach\"", ""},
		{"judged after all", "given moving true\ngiven subject_near 2m\ngiven close_focus 0.3m\nexpect skip \"reach\"", "\"reach\" is judged"},
		{"not known whether to skip", "expect skip \"reach\"", "\"reach\" is judged; not known: moving"},
		{"a fact of the file", "given moving true\ngiven subject_near 2m\ngiven close_focus 150cm\nexpect score \"reach\" 0.5", ""},
		{"unknown", "given moving true\ngiven subject_near unknown\nexpect unknown \"reach\"", ""},
		{"known", "given moving false\nexpect unknown \"reach\"", "all of \"reach\" is known"},
		{"limit", "given swing 3%\ngiven is_person true\ngiven edge_stretch 20%\nexpect limit \"swing\" 0.3\nexpect no veto \"swing\"", ""},
		{"limit within an interval", "given swing 3%\ngiven is_person true\ngiven edge_stretch 20%\nexpect limit \"swing\" 0.2..0.4\nexpect limit \"swing\" 0.3..", ""},
		{"another limit", "given swing 3%\ngiven is_person true\ngiven edge_stretch 20%\nexpect limit \"swing\" 0.5", "\"swing\" limits to 0.3"},
		{"limit at 0", "given swing 4%\nexpect veto \"swing\"\nexpect veto \"swing-2\"", ""},
		{"not that limit", "given swing 4%\nexpect veto \"swing-3\"", "\"swing-3\" does not exclude the lens; not known: is_person, edge_stretch"},
		{"a limit all the same", "given swing 4%\nexpect no veto", "the lens is excluded by \"swing-2\" (it swims by 4%)"},
		{"limit not known", "given swing 3%\nexpect limit \"swing\" 0.5", "\"swing\" has no limit; not known: is_zoom, hired, is_person, edge_stretch"},
		{"limit unknown", "given hired false\ngiven is_zoom false\ngiven is_person false\ngiven edge_stretch 0%\nexpect unknown \"swing\"", ""},
		{"limit of a criterion without", "given iso 100\nexpect limit \"light\" 1", "\"light\" has no limit; not known: short, hired"},
		{"limit of no criterion", "expect limit \"swing-2\" 1", "LOAD there is no criterion \"swing-2\""},
		{"limit without a number", "expect limit \"swing\"", "LOAD \"expect\" lacks a plain number or an interval"},
		{"no such fact", "given shrot 1 stop\nexpect no veto", "LOAD there is no fact \"shrot\"; did you mean \"short\"?"},
		{"a fact that is computed", "given reach 1m\nexpect no veto", "LOAD \"reach\" is computed by these files and cannot be given"},
		{"a fact twice", "given iso 800\ngiven iso 100\nexpect no veto", "LOAD \"iso\" is given twice"},
		{"another dimension", "given short 1m\nexpect no veto", "LOAD \"1m\" is a length, and \"short\" is a number of stops"},
		{"a number for a truth", "given moving 1\nexpect no veto", "LOAD \"moving\" is true or false, and \"1\" is a quantity"},
		{"a truth for a number", "given iso true\nexpect no veto", "LOAD \"iso\" is a plain number, and \"true\" is none"},
		{"no such criterion", "expect score \"ligth\" 1", "LOAD there is no criterion \"ligth\"; did you mean \"light\"?"},
		{"nothing expected", "given iso 800", "LOAD case \"c\" has no \"expect\""},
		{"another word", "expect nothing", "LOAD \"expect\" does not take the word \"nothing\""},
		{"no value", "given iso\nexpect no veto", "LOAD \"given\" lacks one of \"true\", \"false\" or \"unknown\""},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, _, found := loadCases(t, "case \"c\" {\n"+c.text+"\n}\n")
			var got []string
			for _, d := range found {
				text := strings.TrimPrefix(d.Error(), d.Span.String()+": error: ")
				got = append(got, "LOAD "+text)
			}
			if !found.HasErrors() {
				for _, one := range set.Cases() {
					for _, d := range set.Test(&one) {
						got = append(got, strings.TrimPrefix(d.Summary, "case \"c\": "))
						if d.Code != lang.ExpectationBroken || d.Span.Position().Line == 0 {
							t.Errorf("the finding %v has another code or no place", d)
						}
					}
				}
			}
			if joined := strings.Join(got, "\n"); joined != c.want {
				t.Errorf("got  %s\nwant %s", joined, c.want)
			}
		})
	}
}

func TestCoverage(t *testing.T) {
	everything := []string{
		"fact grade: its value", `branch grade: the side "20%"`, `branch grade: the side "50%"`, `branch grade: the side "hired ? 20% : 50%"`, `branch grade: the side "100%"`,
		"fact reach: its value", `veto light: that "light" excludes`, `veto light: that "light-2" excludes`, "score light: its score",
		`branch light: the side "0.5"`, `branch light: the side "0.25"`, "when reach: that it applies", "when reach: that it does not apply", "score reach: its score",
		`veto swing: that "swing" excludes`, `limit swing: that "swing-2" bites`, `limit swing: that "swing-3" bites`,
		`branch swing: the side "falling(edge_stretch, 0%, 50%)"`, `branch swing: the side "1"`,
	}
	for _, c := range []struct {
		name, cases string
		untouched   []string
	}{
		{"no cases", "", everything},
		{"one veto", "case \"a\" {\ngiven short 1 stop\nexpect veto \"light\"\n}\n", without(everything, `veto light: that "light" excludes`)},
		{"one side of a choice", "case \"a\" {\ngiven hired true\nexpect no veto\n}\n", without(everything, "score light: its score", `branch light: the side "0.5"`)},
		{"an inner choice", "case \"a\" {\ngiven is_zoom true\ngiven hired false\nexpect no veto\n}\n", without(everything,
			"score light: its score", `branch light: the side "0.25"`, "fact grade: its value", `branch grade: the side "50%"`, `branch grade: the side "hired ? 20% : 50%"`)},
		{"an inner choice that is not come to", "case \"a\" {\ngiven is_zoom false\ngiven hired false\nexpect no veto\n}\n", without(everything,
			"score light: its score", `branch light: the side "0.25"`, "fact grade: its value", `branch grade: the side "100%"`)},
		{"a limit", "case \"a\" {\ngiven swing 3%\nexpect no veto\n}\n", without(everything, `limit swing: that "swing-2" bites`)},
		{"a limit that does not bite", "case \"a\" {\ngiven swing 2%\nexpect no veto\n}\n", everything},
		{"a side of a limit", "case \"a\" {\ngiven is_person true\ngiven edge_stretch 10%\nexpect no veto\n}\n", without(everything, `limit swing: that "swing-3" bites`, `branch swing: the side "falling(edge_stretch, 0%, 50%)"`)},
		{"both ways of a condition", "case \"a\" {\ngiven moving true\ngiven subject_near 1m\ngiven close_focus 1m\nexpect score \"reach\" 0\n}\ncase \"b\" {\ngiven moving false\nexpect skip \"reach\"\n}\n", without(everything,
			"fact reach: its value", "when reach: that it applies", "when reach: that it does not apply", "score reach: its score")},
	} {
		t.Run(c.name, func(t *testing.T) {
			set, src, found := loadCases(t, c.cases)
			if found.HasErrors() {
				t.Fatal(found)
			}
			coverage := set.Coverage(src)
			for _, one := range set.Cases() {
				if broken := set.Test(&one, coverage); broken != nil {
					t.Error(broken)
				}
			}
			got := map[string]bool{}
			for _, p := range coverage.Points() {
				if !p.Touched {
					got[fmt.Sprintf("%s %s: %s", p.Kind, p.Of, p.Text)] = true
				}
				if p.Span.Source != src {
					t.Errorf("%s %s has no place", p.Kind, p.Of)
				}
			}
			want := map[string]bool{}
			for _, text := range c.untouched {
				want[text] = true
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("what is not touched differs (-want +got):\n%s", diff)
			}
		})
	}
	set, _, _ := loadCases(t, "")
	if other := set.Coverage(&lang.Source{}); len(other.Points()) != 0 {
		t.Errorf("a file that defines nothing has %d points", len(other.Points()))
	}
}

func without(all []string, some ...string) []string {
	var rest []string
	for _, text := range all {
		keep := true
		for _, one := range some {
			keep = keep && one != text
		}
		if keep {
			rest = append(rest, text)
		}
	}
	return rest
}
