package editor

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"glassbrief/engine/brief"

	"github.com/google/go-cmp/cmp"
)

func TestLifecycle(t *testing.T) {
	s := start(t, nil)
	code := func(method string) int {
		t.Helper()
		answer := s.call(method, map[string]any{})
		if answer.Error == nil {
			return 0
		}
		return answer.Error.Code
	}
	for _, step := range []struct {
		method string
		want   int
	}{
		{"textDocument/hover", codeNotInitialized},
		{"initialize", 0},
		{"textDocument/hover", codeInvalidParams}, // of a document that is not open
		{"textDocument/moniker", codeUnknownMethod},
		{"$/unknown", codeUnknownMethod},
		{"shutdown", 0},
		{"textDocument/hover", codeInvalidRequest},
	} {
		if got := code(step.method); got != step.want {
			t.Errorf("%s: got %d, want %d", step.method, got, step.want)
		}
	}
	s.notify("exit", nil)
	if err := s.leave(); err != nil {
		t.Errorf("the session ends with %v", err)
	}
}

func TestClosingClearsFindings(t *testing.T) {
	s := begin(t, nil)
	s.open("a.scenario", "use")
	if len(s.findings("a.scenario")) == 0 {
		t.Fatal("no findings in a faulty text")
	}
	s.notify("textDocument/didClose", map[string]any{"textDocument": textDocument{URI: s.uri("a.scenario")}})
	s.wait("a.scenario")
	if got := s.findings("a.scenario"); len(got) != 0 {
		t.Errorf("a closed text still has %q", got)
	}
}

// A scenario sees the text of an open catalogue, and not the file.
func TestOpenCatalogueIsRead(t *testing.T) {
	kit := "mount \"Slim\" {\n  flange 18mm\n  throat 50mm\n}\ncamera \"Own\" {\n  mount \"Slim\"\n  mode \"All\" 36mm x 24mm\n  mass 1kg\n  iso 800\n  iso_range 200..3200\n}\n"
	s := begin(t, map[string]string{"own.catalog": kit})
	s.open("a.scenario", strings.NewReplacer("use demo", "use demo\nuse \"own.catalog\"", "House body A", "Own").Replace(plain))
	if diff := cmp.Diff([]string{}, s.findings("a.scenario")); diff != "" {
		t.Fatalf("findings (-want +got):\n%s", diff)
	}
	s.notify("textDocument/didOpen", map[string]any{"textDocument": textDocument{URI: s.uri("own.catalog"), Text: strings.Replace(kit, "Own", "Other", 1)}})
	s.wait("a.scenario")
	if diff := cmp.Diff([]string{`4:13-4:16 1 unknown-name the catalogue has no camera "Own"`}, s.findings("a.scenario")); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
}

// Several changes in a row are worked out once, and the last one counts.
func TestChangesAreWorkedOutOnce(t *testing.T) {
	s := begin(t, nil)
	s.open("a.scenario", plain)
	for i := range 50 {
		text := "use\n"
		if i == 49 {
			text = plain
		}
		s.notify("textDocument/didChange", map[string]any{
			"textDocument": textDocument{URI: s.uri("a.scenario")}, "contentChanges": []map[string]string{{"text": text}},
		})
	}
	s.wait("a.scenario")
	s.request("textDocument/formatting", map[string]any{"textDocument": textDocument{URI: s.uri("a.scenario")}})
	for s.findings("a.scenario") == nil || len(s.findings("a.scenario")) > 0 {
		s.wait("a.scenario")
	}
}

func framed(body string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) }

const (
	initialize = `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{}}`
	leaving    = `{"jsonrpc":"2.0","id":9,"method":"shutdown"}`
	exit       = `{"jsonrpc":"2.0","method":"exit"}`
)

// What comes in may be anything: the session goes on where it can, and ends with an error
// where it cannot.
func TestHostileMessages(t *testing.T) {
	notShut := ErrNotShutDown.Error()
	for _, c := range []struct {
		name, input string
		end         string // piece of the error; "" for none
		answers     []string
	}{
		{"nothing", "", "", nil},
		{"no shutdown", framed(initialize) + framed(exit), notShut, []string{`"id":1,"result"`}},
		{"the stream ends", framed(initialize), notShut, []string{`"id":1,"result"`}},
		{"no JSON", framed("hello") + framed(initialize) + framed(leaving) + framed(exit), "", []string{`-32700`, `"id":1,"result"`, `"id":9,"result":null`}},
		{"other JSON", framed("[1,2]") + framed(`{"jsonrpc":"1.0","id":1,"method":"x"}`) + framed(`{}`), "", []string{`-32700`, `-32600`, `-32600`}},
		{"an answer to nothing", framed(`{"jsonrpc":"2.0","id":7,"result":null}`), "", []string{`-32600`}},
		{"parameters of another kind", framed(initialize) + framed(`{"jsonrpc":"2.0","id":2,"method":"textDocument/hover","params":[1]}`), notShut, []string{`"id":1`, `"id":2,"error":{"code":-32602`}},
		{"a place far outside", framed(initialize) +
			framed(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"untitled:a","text":"use demo"}}}`) +
			framed(`{"jsonrpc":"2.0","id":2,"method":"textDocument/hover","params":{"textDocument":{"uri":"untitled:a"},"position":{"line":4000000000,"character":4000000000}}}`) +
			framed(`{"jsonrpc":"2.0","id":3,"method":"textDocument/completion","params":{"textDocument":{"uri":"untitled:a"},"position":{"line":-5,"character":-5}}}`),
			notShut, []string{`"id":1`, `"id":2,"result":null`, `"id":3,"result"`}},
		{"a length that is too large", "Content-Length: 99999999999\r\n\r\n", "between 0 and", nil},
		{"a length that is negative", "Content-Length: -1\r\n\r\n", "between 0 and", nil},
		{"a length that is no number", "Content-Length: x\r\n\r\n", "no number", nil},
		{"no length", "Content-Type: x\r\n\r\n", "between 0 and", nil},
		{"a body that is cut off", "Content-Length: 100\r\n\r\n{", "ends before its length", nil},
		{"a header without end", strings.Repeat("A: b\r\n", 1000), "no end", nil},
		{"a line without end", strings.Repeat("A", 1<<20), "cannot be read", nil},
		{"only line ends", "\r\n\r\n\r\n", "between 0 and", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out, log bytes.Buffer
			ended := make(chan error, 1)
			go func() {
				ended <- Serve(context.Background(), strings.NewReader(c.input), &out, Session{Log: &log, Files: noFiles})
			}()
			var err error
			select {
			case err = <-ended:
			case <-time.After(patience):
				t.Fatal("the session does not end")
			}
			if got := fmt.Sprint(err); (err == nil) != (c.end == "") || !strings.Contains(got, c.end) {
				t.Errorf("the session ends with %q, want %q", got, c.end)
			}
			rest := out.String()
			for _, answer := range c.answers {
				_, after, found := strings.Cut(rest, answer)
				if !found {
					t.Errorf("no answer %s in order in %s", answer, out.String())
				}
				rest = after
			}
			if strings.Contains(log.String(), "fault of the program") {
				t.Errorf("the log says: %s", log.String())
			}
		})
	}
}

func noFiles(_ string, use func(brief.Files)) error {
	use(brief.Files{})
	return nil
}

// A fault of the program costs one answer and not the texts of the session.
func TestFaultOfTheProgram(t *testing.T) {
	input := framed(initialize) +
		framed(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///a.scenario","text":"expect kit \"x"}}}`) +
		framed(`{"jsonrpc":"2.0","id":2,"method":"textDocument/completion","params":{"textDocument":{"uri":"file:///a.scenario"},"position":{"line":0,"character":13}}}`) +
		framed(leaving) + framed(exit)
	var out, log bytes.Buffer
	err := Serve(context.Background(), strings.NewReader(input), &out, Session{
		Log: &log, Files: func(string, func(brief.Files)) error { panic("made for the test") },
	})
	if err != nil {
		t.Errorf("the session ends with %v", err)
	}
	if !strings.Contains(out.String(), `"id":2,"error":{"code":-32603`) || !strings.Contains(out.String(), `"id":9,"result":null`) {
		t.Errorf("got %s", out.String())
	}
	if !strings.Contains(log.String(), "made for the test") {
		t.Errorf("the log says %q", log.String())
	}
}

// A client that no longer reads ends the session.
func TestClientThatLeft(t *testing.T) {
	err := Serve(context.Background(), strings.NewReader(framed(initialize)), deaf{}, Session{Log: io.Discard, Files: noFiles})
	if !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("got %v, want %v", err, io.ErrClosedPipe)
	}
}

type deaf struct{}

func (deaf) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// Texts of any size are taken, and refused by their findings.
func TestLargeTexts(t *testing.T) {
	s := begin(t, nil)
	for _, text := range []string{
		strings.Repeat("shot \"a\" {\n  frame x\n}\n", 5<<20/24),
		strings.Repeat("x", 1<<20),
		strings.Repeat("{\n", 1<<19),
	} {
		s.open("a.scenario", text)
		if len(s.findings("a.scenario")) == 0 {
			t.Errorf("no findings in %.20q…", text)
		}
		s.request("textDocument/formatting", map[string]any{"textDocument": textDocument{URI: s.uri("a.scenario")}})
	}
}

// FuzzMessages sends any text as the parameters of every method, on top of an open text.
func FuzzMessages(f *testing.F) {
	f.Add("shot \"1A\" {\n  frame med", 1, 11, "")
	f.Add("case \"c\" {\n  expect veto \"", 1, 15, "rules")
	f.Add("lens \"𝄞\" {\n  mount \"", 1, 9, "catalog")
	f.Fuzz(func(t *testing.T, text string, line, character int, kind string) {
		quoted, err := json.Marshal(text)
		if err != nil {
			t.Skip()
		}
		language, _ := json.Marshal(kind)
		input := framed(initialize) +
			framed(fmt.Sprintf(`{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"untitled:a","languageId":%s,"text":%s}}}`, language, quoted))
		for _, name := range slices.Sorted(maps.Keys(methods())) {
			if name == "shutdown" || strings.HasPrefix(name, "textDocument/did") {
				continue
			}
			at := fmt.Sprintf(`{"line":%d,"character":%d}`, line, character)
			input += framed(fmt.Sprintf(`{"jsonrpc":"2.0","id":2,"method":%q,"params":{"textDocument":{"uri":"untitled:a"},"position":%s,"positions":[%[2]s],"range":{"start":%[2]s,"end":%[2]s},"newName":"other"}}`, name, at))
		}
		var out, log bytes.Buffer
		if err := Serve(context.Background(), strings.NewReader(input+framed(leaving)+framed(exit)), &out, Session{Log: &log, Files: noFiles}); err != nil {
			t.Errorf("the session ends with %v", err)
		}
		if log.Len() > 0 {
			t.Errorf("the log says: %s", log.String())
		}
	})
}
