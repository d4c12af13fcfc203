package editor

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// manyShotsText is a scenario of so many shots, of which no two say the same.
func manyShotsText(n int) string {
	var b strings.Builder
	b.WriteString("use demo\n\nscenario \"Many\" {\n  camera \"House body A\"\n  rig \"Short sled\"\n  carry 3 lenses\n}\n\n")
	for i := range n {
		fmt.Fprintf(&b, "shot \"S%d\" {\n  subject   person 1.7m\n  frame     medium\n  distance  %.2fm\n  light     %dlx\n}\n\n", i, 1.5+float64(i%100)/50, 100+i%700)
	}
	return b.String()
}

// margin asks for the lenses of a document, as "line: title".
func (s *session) margin(name string) (lines []string) {
	s.t.Helper()
	var got []codeLens
	if err := json.Unmarshal(s.request("textDocument/codeLens", map[string]any{"textDocument": textDocument{URI: s.uri(name)}}), &got); err != nil {
		s.t.Fatal(err)
	}
	for _, lens := range got {
		lines = append(lines, fmt.Sprintf("%d: %s", lens.Range.Start.Line, lens.Command.Title))
	}
	return lines
}

// inLine asks for the hints of a document, each as its line with the hint in brackets.
func (s *session) inLine(name, text string) (lines []string) {
	s.t.Helper()
	var got []hint
	if err := json.Unmarshal(s.request("textDocument/inlayHint", map[string]any{
		"textDocument": textDocument{URI: s.uri(name)}, "range": textRange{End: position{Line: 1000}},
	}), &got); err != nil {
		s.t.Fatal(err)
	}
	for _, h := range got {
		line := strings.Split(text, "\n")[h.Position.Line]
		lines = append(lines, strings.TrimSpace(line[:h.Position.Character]+" ["+h.Label+"]"+line[h.Position.Character:]))
	}
	return lines
}

// type changes a piece of an open document by its range, as an editor does at a key.
func (s *session) typed(name, text, old, new string, version int) string {
	s.t.Helper()
	start := strings.Index(text, old)
	src, _ := lang.NewSource(name, []byte(text))
	s.notify("textDocument/didChange", map[string]any{
		"textDocument":   map[string]any{"uri": s.uri(name), "version": version},
		"contentChanges": []any{map[string]any{"range": textRange{positionOf(src, start), positionOf(src, start+len(old))}, "text": new}},
	})
	return text[:start] + new + text[start+len(old):]
}

// The margin follows the keys, and says what "recommend" says.
func TestMarginFollowsTheKeys(t *testing.T) {
	s := begin(t, nil)
	text := strings.Replace(plain, "  distance  2m\n", "  distance  2m..2.8m // ä\n  move      lead 1m/s\n  light     320lx\n", 1)
	s.open("a.scenario", text)
	title := func(text string) string {
		src, _ := lang.NewSource("a", []byte(text))
		scenario, found := brief.Load(src, brief.Files{})
		if found.HasErrors() {
			t.Fatal(found)
		}
		r, err := engine.Recommend(t.Context(), scenario, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return wording.Margin(r.Shots[0].Use, lang.Printer{})
	}
	line := strings.Count(text[:strings.Index(text, "shot ")], "\n")
	if diff := cmp.Diff([]string{fmt.Sprintf("%d: %s", line, title(text))}, s.margin("a.scenario")); diff != "" {
		t.Errorf("the margin (-want +got):\n%s", diff)
	}
	hints := s.inLine("a.scenario", text)
	if len(hints) != 3 || hints[1] != `distance  2m..2.8m [= 6ft 6 1/2in..9ft 2in] // ä` || !strings.HasPrefix(hints[2], "light     320lx [→ f/") {
		t.Errorf("got the hints %q", hints)
	}
	before := s.margin("a.scenario")
	text = s.typed("a.scenario", text, "320lx", "20000lx", 2)
	after := s.margin("a.scenario")
	if cmp.Equal(before, after) || after[0] != fmt.Sprintf("%d: %s", line, title(text)) {
		t.Errorf("behind a key got %q, want %q", after, title(text))
	}
	text = s.typed("a.scenario", text, "20000lx", "20000l", 3)
	if got := s.margin("a.scenario"); len(got) != 0 {
		t.Errorf("of a faulty text got %q", got)
	}
	two := strings.Replace(text, "20000l ", "20000lx ", 1) + strings.ReplaceAll(text[strings.Index(text, "shot \""):], "1A", "1B")
	two = strings.ReplaceAll(two, "20000l\n", "20000lx\n")
	s.open("b.scenario", two)
	both := s.margin("b.scenario")
	s.typed("b.scenario", two, "person", "persn", 2)
	if got := s.margin("b.scenario"); len(both) != 2 || !cmp.Equal(got, both[1:]) {
		t.Errorf("with a fault in the first shot got %q, want the second of %q", got, both)
	}
	text = s.typed("a.scenario", text, "distance  2m..2.8m", "distance  2ft..3ft", 4)
	if got := s.inLine("a.scenario", text); got[1] != `distance  2ft..3ft [= 60.96 cm..91.44 cm] // ä` && !strings.HasPrefix(got[1], "distance  2ft..3ft [= 0.61 m..0.91 m]") {
		t.Errorf("feet got %q", got)
	}
}

// edits change a scenario as people do: a figure, a line, a whole shot, the order, what stands before the shots.
var edits = []func(r *rand.Rand, shots []string, head *string) []string{
	func(r *rand.Rand, shots []string, _ *string) []string {
		i := r.IntN(len(shots))
		shots[i] = strings.Replace(shots[i], "lx", []string{"0lx", "lx // why", "lx"}[r.IntN(3)], 1)
		return shots
	},
	func(r *rand.Rand, shots []string, _ *string) []string {
		i := r.IntN(len(shots))
		shots[i] = strings.Replace(shots[i], "frame     medium", "frame     "+[]string{"close", "full", "medium"}[r.IntN(3)], 1)
		return shots
	},
	func(r *rand.Rand, shots []string, _ *string) []string {
		if len(shots) < 3 {
			return shots
		}
		i := r.IntN(len(shots))
		return append(shots[:i:i], shots[i+1:]...)
	},
	func(r *rand.Rand, shots []string, _ *string) []string {
		return append(shots, strings.Replace(shots[0], "shot \"", fmt.Sprintf("shot \"N%d", r.IntN(1e9)), 1))
	},
	func(r *rand.Rand, shots []string, _ *string) []string {
		i, k := r.IntN(len(shots)), r.IntN(len(shots))
		shots[i], shots[k] = shots[k], shots[i]
		return shots
	},
	func(r *rand.Rand, _ []string, head *string) []string {
		*head = strings.Replace(*head, "carry ", []string{"rate 25fps\n  carry ", "mode \"Open gate\"\n  carry ", "carry ", "change_price 0\n  carry "}[r.IntN(4)], 1)
		return nil
	},
}

// What is judged from one state to the next is what is judged from the beginning.
func TestFollowedAsJudgedAnew(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 5000))
	whole := manyShotsText(5)
	at := strings.Index(whole, "shot ")
	head, shots := whole[:at], strings.SplitAfter(strings.TrimSuffix(whole[at:], "\n"), "}\n\n")
	s := &server{ctx: t.Context(), memory: &memory{}}
	j, followed := s.memory.at("a"), 0
	var before *engine.Table
	for range langtest.Cases(60) {
		if changed := edits[r.IntN(len(edits))](r, shots, &head); changed != nil {
			shots = changed
		}
		d := newDocument("untitled:a.scenario", "scenario")
		d.set(head + strings.Join(shots, ""))
		read := s.read(d)
		if read.scenario == nil {
			head = whole[:at] // two lines that exclude each other
			continue
		}
		if err := j.follow(t.Context(), read, d.source); err != nil {
			t.Fatal(err)
		}
		if before != nil && before != j.table {
			followed++
		}
		before = j.table
		anew, err := engine.Judge(t.Context(), read.scenario, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(fmt.Sprint(anew.Scores()), fmt.Sprint(j.table.Scores())); diff != "" {
			t.Fatalf("scores differ (-anew +followed):\n%s\nof\n%s", diff, d.text)
		}
		if _, err := j.choose(); err != nil {
			t.Fatal(err)
		}
		choice, err := anew.Choose(read.scenario.Limits, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(choice.Kit.Uses, j.kit.Uses); diff != "" {
			t.Fatalf("the kit differs (-anew +followed):\n%s", diff)
		}
		for i := range read.scenario.Shots {
			if place := anew.Place(choice.Kit.Uses[i]); place >= 0 {
				judgement := anew.Explain(i, place)
				if want, got := wording.Margin(&judgement, lang.Printer{}), j.say(i, lang.Printer{}).line; got != want {
					t.Fatalf("shot %d: got %q, want %q", i, got, want)
				}
			}
		}
	}
	if langtest.Enough(60) && followed < 20 {
		t.Errorf("only %d states were followed", followed)
	}
}

// With 5,000 shots open, in three texts since one holds 2,000 at the most, a key costs its own shot and the
// reading of its text, in findings and in the margin.
func TestKeyInManyShots(t *testing.T) {
	s := begin(t, nil)
	const each = 1667
	text := manyShotsText(each)
	for _, name := range []string{"a.scenario", "b.scenario", "c.scenario"} {
		s.open(name, text)
	}
	var first []string
	all := langtest.Clock(langtest.Processor).Time(func() { first = s.margin("a.scenario") })
	if len(first) != each {
		t.Fatalf("got %d lines, want %d", len(first), each)
	}
	version := 1
	best := time.Hour
	for i := range 8 {
		old, new := "shot \"S800\" {\n  subject   person 1.7m\n  frame     medium\n", "shot \"S800\" {\n  subject   person 1.7m\n  frame     close\n"
		if i%2 == 1 {
			old, new = new, old
		}
		var lines []string
		took := langtest.Clock(langtest.Processor).Time(func() {
			version++
			text = s.typed("a.scenario", text, old, new, version)
			s.wait("a.scenario")
			lines = s.margin("a.scenario")
		})
		if len(lines) != each || i == 0 && lines[800] == first[800] || i == 1 && lines[800] != first[800] {
			t.Errorf("the margin does not follow: %q, before it %q", lines[800], first[800])
		}
		best = min(best, took)
	}
	t.Logf("the whole margin took %v of the processor, a key %v", all, best)
	if limit := langtest.Allowed(100 * time.Millisecond); best > limit {
		t.Errorf("a key takes %v of the processor, want at most %v", best, limit)
	}
}

// Changes by ranges leave the text that the client has, with whatever characters and line ends.
func TestIncrementalChanges(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 18))
	pieces := []string{"a", "𝄞", "ä", "\n", "\r\n", "\"", "{", "}", "\ufeff", "shot \"1\" {\n", " ", "//"}
	piece := func() (text string) {
		for range r.IntN(5) {
			text += pieces[r.IntN(len(pieces))]
		}
		return text
	}
	c := &conversation{now: server{Session: Session{Log: os.Stderr}, ctx: t.Context(), documents: map[string]*document{}, memory: &memory{}}, checks: map[string]*check{}, lanes: map[string]*lane{}, failed: make(chan error, 1)}
	c.wire.out = io.Discard
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	c.now.ctx = ctx // nothing is worked out
	p := &params{TextDocument: textDocument{URI: "untitled:a"}}
	if err := c.open(p); err != nil {
		t.Fatal(err)
	}
	model := ""
	for range langtest.Cases(2000) {
		lines := strings.Split(model, "\n")
		place := func() (position, int) { // a place between characters, and its offset
			line := r.IntN(len(lines))
			text := strings.TrimSuffix(lines[line], "\r")
			runes := []rune(text)
			n := r.IntN(len(runes) + 1)
			before := string(runes[:n])
			offset := len(before)
			for _, earlier := range lines[:line] {
				offset += len(earlier) + 1
			}
			count := 0
			for _, c := range before {
				count++
				if c > 0xffff {
					count++
				}
			}
			return position{line, count}, offset
		}
		from, start := place()
		to, end := place()
		if start > end {
			from, start, to, end = to, end, from, start
		}
		new := piece()
		if len(model) > 300 {
			new = ""
		}
		p.ContentChanges = p.ContentChanges[:0]
		p.ContentChanges = append(p.ContentChanges, contentChange{&textRange{from, to}, new})
		if err := c.change(p); err != nil {
			t.Fatal(err)
		}
		model = model[:start] + new + model[end:]
		if got := c.now.documents["untitled:a"].text; got != model {
			t.Fatalf("got %q, want %q", got, model)
		}
	}
	c.work.Wait()
}

// A document that takes long keeps no other waiting, and what is asked of it can be taken back.
func TestNoDocumentBlocksAnother(t *testing.T) {
	slow, release := make(chan bool, 1), make(chan bool)
	fromClient, toServer := io.Pipe()
	s := &session{t: t, wire: wire{out: toServer}, heard: make(chan message, 1000), ended: make(chan error, 1), folder: t.TempDir(), log: &safeBuffer{}, found: map[string][]diagnostic{}}
	fromServer, toClient := io.Pipe()
	go func() {
		err := Serve(context.Background(), fromClient, toClient, Session{Log: s.log, Files: func(path string, use func(brief.Files)) error {
			if filepath.Base(path) == "slow.scenario" {
				select {
				case slow <- true:
				default:
				}
				<-release
			}
			use(brief.Files{})
			return nil
		}})
		toClient.Close()
		s.ended <- err
	}()
	go s.listen(bufio.NewReader(fromServer), s.heard)
	s.request("initialize", map[string]any{})
	s.notify("textDocument/didOpen", map[string]any{"textDocument": textDocument{URI: s.uri("slow.scenario"), Text: plain}})
	<-slow
	s.send(message{ID: json.RawMessage(`"long"`), Method: "textDocument/codeLens", Params: s.json(map[string]any{"textDocument": textDocument{URI: s.uri("slow.scenario")}})})
	s.open("quick.scenario", plain)
	if got := s.margin("quick.scenario"); len(got) != 1 {
		t.Errorf("the other document has %q", got)
	}
	s.notify("$/cancelRequest", map[string]any{"id": "long"})
	s.margin("quick.scenario") // so that the wish has been read
	close(release)
	for {
		if m := s.receive(); string(m.ID) == `"long"` {
			if m.Error == nil || m.Error.Code != codeCancelled {
				t.Errorf("what was taken back got %s, %v", m.Result, m.Error)
			}
			break
		}
	}
	if err := s.end(); err != nil {
		t.Error(err)
	}
}
