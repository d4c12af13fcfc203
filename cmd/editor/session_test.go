package editor

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// patience is how long a test waits for what must come at once, on however busy a machine.
const patience = 2 * time.Minute

// A session is a client that speaks to [Serve] over pipes.
type session struct {
	t      *testing.T
	wire   wire
	heard  chan message // what the server says
	ended  chan error
	folder string
	log    *safeBuffer
	next   int
	found  map[string][]diagnostic // the last findings of each document
}

// safeBuffer is written by the server while the test may read it.
type safeBuffer struct {
	sync.Mutex
	bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.Lock()
	defer b.Unlock()
	return b.Buffer.Write(p)
}

func (b *safeBuffer) String() string {
	b.Lock()
	defer b.Unlock()
	return b.Buffer.String()
}

// start runs a server on a folder with files.
func start(t *testing.T, files map[string]string) *session {
	t.Helper()
	fromClient, toServer := io.Pipe()
	fromServer, toClient := io.Pipe()
	s := &session{
		t: t, wire: wire{out: toServer}, heard: make(chan message, 1000),
		ended: make(chan error, 1), folder: t.TempDir(), log: &safeBuffer{}, found: map[string][]diagnostic{},
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(s.folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	go func() {
		err := Serve(context.Background(), fromClient, toClient, Session{
			Version: "test", Log: s.log, Patience: patience, List: listFiles,
			Files: func(path string, use func(brief.Files)) error {
				use(brief.Files{Tree: os.DirFS(filepath.Dir(path)), Name: filepath.Dir(path)})
				return nil
			},
		})
		toClient.CloseWithError(io.EOF)
		s.ended <- err
	}()
	go s.listen(bufio.NewReader(fromServer), s.heard)
	t.Cleanup(func() { toServer.Close() })
	return s
}

// begin starts a session and initializes it.
func begin(t *testing.T, files map[string]string) *session {
	t.Helper()
	s := start(t, files)
	s.request("initialize", map[string]any{})
	s.notify("initialized", map[string]any{})
	return s
}

func (s *session) send(m message) {
	s.t.Helper()
	if err := s.wire.write(m); err != nil {
		s.t.Fatal(err)
	}
}

func (s *session) notify(method string, params any) {
	s.t.Helper()
	s.send(message{Method: method, Params: s.json(params)})
}

func (s *session) json(v any) json.RawMessage {
	s.t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		s.t.Fatal(err)
	}
	return text
}

// call sends a request and gives its answer; findings that come before are kept.
func (s *session) call(method string, params any) message {
	s.t.Helper()
	s.next++
	id := s.json(s.next)
	s.send(message{ID: id, Method: method, Params: s.json(params)})
	for {
		m := s.receive()
		if m.Method == "" && string(m.ID) == string(id) {
			return m
		}
	}
}

// request is call for what must succeed.
func (s *session) request(method string, params any) json.RawMessage {
	s.t.Helper()
	m := s.call(method, params)
	if m.Error != nil {
		s.t.Fatalf("%s: %v", method, m.Error)
	}
	return m.Result
}

// listen reads what the server says ahead of the test, as an editor does.
func (s *session) listen(in *bufio.Reader, heard chan<- message) {
	defer close(heard)
	w := wire{in: in}
	for {
		length, err := w.header()
		if err != nil {
			return // the session is over
		}
		body := make([]byte, length)
		var m message
		if _, err := io.ReadFull(in, body); err != nil || json.Unmarshal(body, &m) != nil {
			return
		}
		heard <- m
	}
}

// receive takes the next message of the server.
func (s *session) receive() message {
	s.t.Helper()
	var m message
	select {
	case got, open := <-s.heard:
		if !open {
			s.t.Fatalf("the server is gone; its log says: %s", s.log)
		}
		m = got
	case <-time.After(patience):
		s.t.Fatalf("the server says nothing; its log says: %s", s.log)
	}
	if m.Method == "textDocument/publishDiagnostics" {
		var p struct {
			URI         string
			Diagnostics []diagnostic
		}
		if err := json.Unmarshal(m.Params, &p); err != nil {
			s.t.Fatal(err)
		}
		s.found[p.URI] = p.Diagnostics
	}
	return m
}

func (s *session) uri(name string) string { return uriOf(filepath.Join(s.folder, name)) }

// open opens a document and waits for its findings.
func (s *session) open(name, text string) {
	s.t.Helper()
	s.notify("textDocument/didOpen", map[string]any{"textDocument": textDocument{URI: s.uri(name), Text: text}})
	s.wait(name)
}

// wait takes what the server says up to the findings of a document.
func (s *session) wait(name string) {
	s.t.Helper()
	delete(s.found, s.uri(name))
	for s.found[s.uri(name)] == nil {
		s.receive()
	}
}

// findings writes the findings of a document, one on a line.
func (s *session) findings(name string) []string {
	got := []string{}
	for _, d := range s.found[s.uri(name)] {
		summary, _, _ := strings.Cut(d.Message, "\n")
		summary, _, _ = strings.Cut(summary, " is done with") // which lens is no matter here
		got = append(got, fmt.Sprintf("%d:%d-%d:%d %d %s %s", d.Range.Start.Line, d.Range.Start.Character, d.Range.End.Line, d.Range.End.Character, d.Severity, d.Code, summary))
	}
	return got
}

// end shuts the session down and gives the error that it ends with.
func (s *session) end() error {
	s.t.Helper()
	s.request("shutdown", nil)
	s.notify("exit", nil)
	return s.leave()
}

func (s *session) leave() error {
	s.t.Helper()
	select {
	case err := <-s.ended:
		return err
	case <-time.After(patience):
		s.t.Fatal("the session does not end")
		return nil
	}
}

// placed cuts the mark "|" out of a text and gives the position that it stood at.
func placed(t *testing.T, marked string) (text string, at position) {
	t.Helper()
	before, after, found := strings.Cut(marked, "|")
	if !found {
		t.Fatalf("no mark in %q", marked)
	}
	src, ds := lang.NewSource("marked", []byte(before+after))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return before + after, positionOf(src, len(before))
}

// ask opens a text with a mark and asks about its place.
func (s *session) ask(method, name, marked string, result any) {
	s.t.Helper()
	text, at := placed(s.t, marked)
	s.open(name, text)
	answer := s.request("textDocument/"+method, map[string]any{"textDocument": textDocument{URI: s.uri(name)}, "position": at})
	if err := json.Unmarshal(answer, result); err != nil {
		s.t.Fatal(err)
	}
}

const plain = `use demo

scenario "Plain" {
  camera    "House body A"
  rig       "Short sled"
}

shot "1A" {
  subject   person 1.7m
  frame     medium
  distance  2m
}
`

func TestFindings(t *testing.T) {
	kit := "mount \"Slim\" {\n  flange 18mm\n  throat 50mm\n}\ncamera \"Own\" {\n  mount \"Slim\"\n  mode \"All\" 36mm x 24mm\n  mass 1kg\n  iso 800\n  iso_range 200..3200\n}\n"
	s := begin(t, map[string]string{
		"own.catalog": kit, "bad.catalog": kit + "amend mount \"Slim\" {\n  flange 3mn\n}\n", "test.fountain": "INT. DECK - NIGHT #1#\n\n",
		"day.scenario": plain,
	})
	own := strings.NewReplacer("use demo", "use demo\nuse \"own.catalog\"", "House body A", "Own").Replace(plain)
	for _, c := range []struct {
		name, file, text string
		want             []string
	}{
		{"fine", "a.scenario", plain, []string{}},
		{"units of a line are UTF-16", "a.scenario", strings.Replace(plain, "distance  2m", "distance  2 // 𝄞", 1) + "shot \"𝄞ä\" \"b\" \"c\" {\n}\n",
			[]string{
				"10:12-10:13 1 missing-unit \"2\" has no unit",
				"12:0-12:4 1 missing-field shot \"𝄞ä\" has no \"subject\"",
				"12:0-12:4 1 missing-field shot \"𝄞ä\" has no \"frame\"",
				"12:0-12:4 1 missing-field shot \"𝄞ä\" has no \"distance\"",
				"12:15-12:18 1 extra-value \"shot\" takes nothing more than what stands before \"c\"",
			}},
		{"a catalogue of its own", "a.scenario", own, []string{}},
		{"a catalogue with a fault", "a.scenario", strings.Replace(own, "own.catalog", "bad.catalog", 1), []string{
			"0:0-0:0 1 unknown-unit " + filepath.Join(s.folder, "bad.catalog") + ":13:11: the unit \"mn\" is not known",
		}},
		{"a script", "a.scenario", strings.NewReplacer("camera ", "script \"test.fountain\"\n  camera ", "distance ", "scene 2\n  distance ").Replace(plain),
			[]string{"3:9-3:24 2 missing-field no shot covers scene \"1\"", "11:8-11:9 1 unknown-name the script has no scene \"2\""}},
		{"an expectation", "a.scenario", strings.Replace(plain, "distance", "light 320lx\n  distance", 1) + "expect shot \"1A\" lens \"Coin 8\"\n",
			[]string{"13:0-13:6 1 expectation-broken shot \"1A\""}},
		{"no text at all", "a.scenario", "use \"\x00\"", []string{"0:5-0:5 1 not-text a NUL byte stands here, so this is no text file"}},
		{"a catalogue", "b.catalog", kit + "lens \"L\" {\n}\n", []string{
			"11:0-11:4 1 missing-field lens \"L\" has no \"mount\"", "11:0-11:4 1 missing-field lens \"L\" has no \"focal\"",
		}},
		{"rules", "c.rules", "criterion \"c\" {\n  score near_limt\n}\n", []string{
			"1:8-1:17 1 unknown-name the fact \"near_limt\" is not defined",
		}},
		{"choices", "d.choices", "choices \"day.scenario\" {\n  chose \"Wide 24\" in shot \"1A\"\n  chose \"Wide 2\" in shot \"1B\"\n  chose \"Coin 8\" in shot \"1A\"\n}\nchoices \"dy.scenario\" {\n}\n", []string{
			`1:8-1:17 2 contradiction "Wide 24" cannot do shot "1A": the frame is 1.50 m high at the subject; for the framing asked, this lens wants about 1.16 m`,
			`2:25-2:29 1 unknown-name "day.scenario" has no shot "1B"`,
			`3:8-3:16 2 contradiction "Coin 8" cannot do shot "1A": the catalogue has no adapter from "Coin screw" to "Slim bayonet", and a plain one could not focus to infinity: the flange distance of "Coin screw", 17.00 mm, is shorter than the 18.50 mm of "Slim bayonet"`,
			`5:8-5:21 1 unreadable-file "dy.scenario" cannot be read: no such file or directory`,
		}},
		{"a case of rules", "c.rules", "case \"c\" {\n  given short 1 stop\n  expect no veto \"light\"\n}\n", []string{
			"2:2-2:24 1 expectation-broken case \"c\": the lens is excluded by \"light-2\" (1 stop of light missing at unknown and ISO unknown)",
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.t = t
			s.open(c.file, c.text)
			if diff := cmp.Diff(c.want, s.findings(c.file)); diff != "" {
				t.Errorf("findings differ (-want +got):\n%s", diff)
			}
		})
	}
	s.t = t
	if err := s.end(); err != nil {
		t.Errorf("the session ends with %v", err)
	}
	if log := s.log.String(); log != "" {
		t.Errorf("the log says: %s", log)
	}
}

// mapTree gives files by name as a tree.
func mapTree(files map[string]string) fs.FS {
	tree := fstest.MapFS{}
	for name, text := range files {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return tree
}

// listFiles gives the files of the language in a folder.
func listFiles(folder string) (paths []string, all bool) {
	for _, kind := range kinds {
		found, _ := filepath.Glob(filepath.Join(folder, "*."+kind))
		paths = append(paths, found...)
	}
	return paths, true
}
