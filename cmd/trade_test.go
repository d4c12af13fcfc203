package cmd_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/cmd"
)

// TestTrade holds the verbs to what the trade answers: testdata/trade/cases.csv names for
// each shot what an operator or assistant would dial, who says so and why. "computed" rows
// follow from arithmetic that the row states; "common practice" is a fact of the trade
// without a published source. The rows were written before the tool was run on them.
func TestTrade(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	const folder = "../testdata/trade/"
	file, err := os.Open(folder + "cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	plans := map[string]*tradePlan{}
	for _, row := range rows[1:] {
		c := tradeCase{scenario: row[0], shot: row[1], lens: row[2], what: row[3], want: row[4], kind: row[5], why: row[6]}
		t.Run(strings.Join(row[:4], "/"), func(t *testing.T) {
			if plans[c.scenario] == nil {
				plans[c.scenario] = tradePlanOf(t, folder+c.scenario+".scenario")
			}
			if c.kind != "computed" && c.kind != "common practice" {
				t.Fatalf("the row says %q where it must say who says so", c.kind)
			}
			if problem := plans[c.scenario].check(c); problem != "" {
				t.Errorf("%s; %s, for %s", problem, c.kind, c.why)
			}
		})
	}
}

type tradeCase struct{ scenario, shot, lens, what, want, kind, why string }

// tradePlan is what recommend and cards say of one scenario.
type tradePlan struct {
	shots, cards map[string]map[string]any
	texts        map[string]string // of cards, by shot
}

func tradePlanOf(t *testing.T, path string) *tradePlan {
	t.Helper()
	var recommended struct{ Shots []map[string]any }
	var carded struct{ Cards []map[string]any }
	readJSON(t, &recommended, "recommend", path, "--as", "json")
	readJSON(t, &carded, "cards", path, "--as", "json")
	p := &tradePlan{map[string]map[string]any{}, map[string]map[string]any{}, map[string]string{}}
	for i, shot := range recommended.Shots {
		id := shot["id"].(string)
		p.shots[id], p.cards[id] = shot, carded.Cards[i]
		text, _ := json.Marshal([]any{carded.Cards[i]["notes"], carded.Cards[i]["cautions"]})
		p.texts[id] = string(text)
	}
	return p
}

// readJSON runs a verb, which may answer "no", and reads its document.
func readJSON(t *testing.T, into any, args ...string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if code := cmd.Main(args, strings.NewReader(""), &stdout, &stderr); code > 1 {
		t.Fatalf("%s ends with %d: %s", strings.Join(args, " "), code, stderr.String())
	}
	if err := json.Unmarshal(stdout.Bytes(), into); err != nil {
		t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
}

// check says what is wrong, or gives "".
func (p *tradePlan) check(c tradeCase) string {
	judged := p.judged(c.shot, c.lens)
	if judged == nil {
		return "no lens does the shot"
	}
	switch what, other, _ := strings.Cut(c.what, " not "); {
	case c.what == "card says" || c.what == "card lacks":
		if found := regexp.MustCompile(c.want).MatchString(p.texts[c.shot]); found != (c.what == "card says") {
			return fmt.Sprintf("the card says %s", p.texts[c.shot])
		}
	case c.what == "verdict":
		if verdict, _ := judged["verdict"].(string); !slices.Contains(strings.Fields(c.want), verdict) {
			return fmt.Sprintf("the verdict is %q", verdict)
		}
	case c.what == "excluded":
		if judged["excluded"] != (c.want == "yes") {
			return fmt.Sprintf("excluded is %v, with the score %v", judged["excluded"], judged["score"])
		}
	case c.what == "iso agrees", c.what == "filters agree":
		key := strings.Fields(c.what)[0]
		recommended, carded := at(judged, "setup."+key), at(p.cards[c.shot], "setup."+key)
		if fmt.Sprint(recommended) != fmt.Sprint(carded) || recommended == nil {
			return fmt.Sprintf("recommend says %v and cards %v", recommended, carded)
		}
	case c.what == "wobble greater than":
		if a, b := p.number(c.shot, "", "wobble_pct"), p.number(c.want, "", "wobble_pct"); !(a > 1.05*b) {
			return fmt.Sprintf("%g against %g", a, b)
		}
	case other != "":
		a, b := p.number(c.shot, c.lens, what), p.number(c.want, c.lens, what)
		smaller := strings.Contains(other, "smaller") || strings.Contains(other, "above")
		// A smaller stop is a larger f-number.
		if smaller && !(a <= b) || !smaller && !(a >= b) {
			return fmt.Sprintf("%g against %g", a, b)
		}
	default:
		if got := p.number(c.shot, c.lens, c.what); !within(got, c.want) {
			return fmt.Sprintf("%s is %g, not %s", c.what, got, c.want)
		}
	}
	return ""
}

// judged gives the judgement of a lens in a shot, or of that of the kit for "".
func (p *tradePlan) judged(shot, lens string) map[string]any {
	s := p.shots[shot]
	if lens == "" {
		lens = s["lens"].(string)
	}
	for _, j := range s["ranking"].([]any) {
		if j := j.(map[string]any); j["lens"] == lens {
			return j
		}
	}
	return nil
}

// number gives a figure of the set-up of a lens in a shot, NaN where there is none.
func (p *tradePlan) number(shot, lens, what string) float64 {
	j, card := p.judged(shot, lens), p.cards[shot]
	setup := func(key string) float64 { return asNumber(at(j, "setup."+key)) }
	switch what {
	case "score", "focal_mm":
		return asNumber(j[what])
	case "stop":
		return setup("aperture")
	case "nd":
		return setup("nd_stops")
	case "filters":
		filters, ok := at(j, "setup.filters").([]any)
		if !ok {
			return asNumber(nil)
		}
		return float64(len(filters))
	case "near_room_m":
		return asNumber(at(j, "setup.stand_near_m")) - setup("near_m")
	case "far_room_m":
		if at(j, "setup.far_unbounded") == true {
			return 1e9
		}
		return setup("far_m") - asNumber(at(j, "setup.stand_far_m"))
	case "far_m":
		if at(j, "setup.far_unbounded") == true {
			return 1e9
		}
		return setup(what)
	case "near_m_of_subject":
		return setup("stand_near_m")
	case "depth_m":
		return setup("far_m") - setup("near_m")
	case "walk_near_m":
		return asNumber(at(card, "setup."+what))
	case "wobble_pct":
		return asNumber(at(card, "setup.picture."+what))
	}
	return setup(what)
}

// at gives the value under dotted keys, or nil.
func at(v any, path string) any {
	for _, key := range strings.Split(path, ".") {
		object, ok := v.(map[string]any)
		if !ok {
			return nil
		}
		v = object[key]
	}
	return v
}

// asNumber gives a number of a document, NaN for what is none.
func asNumber(v any) float64 {
	if x, ok := v.(float64); ok {
		return x
	}
	return math.NaN()
}

// within holds a figure to "a..b", either end left out, or to one of several figures.
func within(x float64, want string) bool {
	if low, high, ok := strings.Cut(want, ".."); ok {
		const slack = 1e-9
		return (low == "" || x >= parseNumber(low)-slack) && (high == "" || x <= parseNumber(high)+slack)
	}
	return slices.ContainsFunc(strings.Fields(want), func(one string) bool { return math.Abs(x-parseNumber(one)) < 1e-6 })
}

func parseNumber(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(err)
	}
	return x
}
