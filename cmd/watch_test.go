package cmd

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"glassbrief/cmd/browsertest"

	"github.com/fsnotify/fsnotify"
)

const watchedBrief = `use "kit.catalog"
scenario "Watched" {
  camera "Body"
  rig    "Sled"
  carry  1
}
shot "1A" {
  subject  person 1.78m
  frame    medium-full
  distance 2m..2.4m
  light    320lx
}
`

const watchedKit = `mount "M" {
  flange 18mm
}
camera "Body" {
  mount "M"
  mode  "Whole" 24.89mm x 18.67mm
  iso   800
  iso_range 200..12800
  mass  1kg
}
rig "Sled" {
  payload 0.9kg..3kg
  wobble 0.2deg
  isolation 70%
}
lens "Middle" {
  have owned
  mount "M"
  focal 32mm
  pupil thin
  aperture f/2..f/22
  transmission T2.2
  close_focus 0.3m
  circle 44mm
  mass 400g
  length 80mm
  distortion -1%
}
lens "Long" {
  have owned
  mount "M"
  focal 65mm
  pupil thin
  aperture f/2..f/22
  transmission T2.2
  close_focus 0.6m
  circle 44mm
  mass 500g
  length 90mm
  distortion 0.2%
}
`

// watched serves a brief of a folder of its own until the test ends, and gives the folder
// and the address.
func watched(t *testing.T) (folder, address string) {
	t.Helper()
	return watchedUnder(t, &trapped{})
}

// watchedUnder is watched with a context of its own.
func watchedUnder(t *testing.T, under *trapped) (folder, address string) {
	t.Helper()
	folder = t.TempDir()
	save(t, folder, "watched.scenario", watchedBrief)
	save(t, folder, "kit.catalog", watchedKit)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	under.Context = ctx
	ended := make(chan error)
	a := newApp(strings.NewReader(""), new(strings.Builder), new(strings.Builder))
	go func() { ended <- a.serve(under, listener, filepath.Join(folder, "watched.scenario"), "") }()
	t.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("it ended with %v", err)
		}
	})
	return folder, "http://" + listener.Addr().String() + "/"
}

// save writes a file as editors do, by putting a new one in its place.
func save(t *testing.T, folder, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(folder, name+"~"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(filepath.Join(folder, name+"~"), filepath.Join(folder, name)); err != nil {
		t.Fatal(err)
	}
}

func TestWatchInABrowser(t *testing.T) {
	browser := browsertest.Start(t)
	folder, address := watched(t)
	page := browser.Open(t, address, 1000, "light")
	reads := func(text string) string { return fmt.Sprintf("document.body.innerText.includes(%q)", text) }
	brings := func(lens string) string {
		return fmt.Sprintf(`document.querySelector(".kit")?.innerText.startsWith(%q) ?? false`, lens)
	}
	page.Await(brings("Middle"))

	save(t, folder, "watched.scenario", strings.Replace(watchedBrief, "distance 2m..2.4m", "distance 4.5m..5m", 1))
	page.Await(brings("Long"))

	// What the reader has open stays open, and what is looked at stays where it is, through a fault too.
	const place = `document.getElementById("s1").getBoundingClientRect().top`
	browsertest.Eval[any](page, `document.querySelector("#s1 details").open = true; scrollTo(0, document.getElementById("s1").offsetTop + 40)`)
	at := browsertest.Eval[float64](page, place)
	stays := func(when string) {
		t.Helper()
		page.Await(`document.querySelector("#s1 details").open`)
		if got := browsertest.Eval[float64](page, place); math.Abs(got-at) > 2 {
			t.Errorf("%s what is looked at stands at %.0f px, want %.0f", when, got, at)
		}
	}
	save(t, folder, "watched.scenario", strings.Replace(watchedBrief, "distance", "distanze", 1))
	page.Await(reads("distanze"))
	page.Await(reads("Did you mean distance?"))
	if !browsertest.Eval[bool](page, brings("Long")) {
		t.Error("the last plan does not stand under the fault")
	}
	stays("under a fault")
	for _, violation := range page.Violations() {
		t.Error(violation)
	}
	save(t, folder, "watched.scenario", watchedBrief)
	page.Await(brings("Middle"))
	stays("behind a fault")

	// What the scenario reads is followed too.
	save(t, folder, "kit.catalog", strings.Replace(watchedKit, `"Middle"`, `"Middling"`, 1))
	page.Await(brings("Middling"))

	for _, fault := range page.Faults() {
		t.Errorf("the console says %s", fault)
	}
	for _, asked := range page.Asked() {
		if !strings.HasPrefix(asked, address) {
			t.Errorf("the page asks for %s", asked)
		}
	}
}

// get asks for a page with headers, Host among them, and gives the status.
func get(t *testing.T, method, address string, headers map[string]string) int {
	t.Helper()
	request, err := http.NewRequestWithContext(t.Context(), method, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, value := range headers {
		request.Header.Set(name, value)
		if name == "Host" {
			request.Host = value
		}
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	response.Body.Close()
	return response.StatusCode
}

func TestWatchIsForThisMachineAlone(t *testing.T) {
	_, address := watched(t)
	port := strings.TrimSuffix(address[strings.LastIndex(address, ":")+1:], "/")
	for _, c := range []struct {
		name, method, path string
		headers            map[string]string
		want               int
	}{
		{"a person", "GET", "", nil, 200},
		{"by the name localhost", "GET", "", map[string]string{"Host": "localhost:" + port}, 200},
		{"a link from another site", "GET", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, 200},
		{"its own script", "GET", "live.js", map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"a name that points here", "GET", "", map[string]string{"Host": "evil.example:" + port}, 421},
		{"another site's script", "GET", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "empty"}, 403},
		{"another site's frame", "GET", "", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, 403},
		{"another site's form", "POST", "", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"a form", "POST", "", nil, 405},
		{"a file", "GET", "watched.scenario", nil, 404},
		{"events of no page", "GET", "events", nil, 400},
	} {
		if got := get(t, c.method, address+c.path, c.headers); got != c.want {
			t.Errorf("%s: got status %d, want %d", c.name, got, c.want)
		}
	}
}

// A trapped context panics in the workers that ask it whether it has ended, as a fault of the program does.
type trapped struct {
	context.Context
	set atomic.Bool
}

func (c *trapped) Err() error {
	if stack := debug.Stack(); c.set.Load() && bytes.Contains(stack, []byte("parallel.For")) {
		panic("made for the test")
	}
	return c.Context.Err()
}

// A fault in a worker costs the page one save: it says so, and the next save shows the plan again.
func TestWatchLivesOn(t *testing.T) {
	trap := &trapped{}
	folder, address := watchedUnder(t, trap)
	response, err := http.Get(address + "events?1")
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	lines := bufio.NewScanner(response.Body)
	for i, faulty := range []bool{true, true, false, true, false} {
		trap.set.Store(faulty)
		save(t, folder, "watched.scenario", fmt.Sprintf("%s// save %d", watchedBrief, i))
		for lines.Scan() && lines.Text() == "" {
		}
		if got, want := lines.Text(), fmt.Sprintf("data: %d", i+2); got != want {
			t.Fatalf("save %d: told %q, want %q", i, got, want)
		}
		page, err := http.Get(address)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(page.Body)
		if page.Body.Close(); err != nil {
			t.Fatal(err)
		}
		if says := strings.Contains(string(text), "made for the test"); says != faulty {
			t.Errorf("save %d: the page tells of a fault: %t, want %t", i, says, faulty)
		}
		if !strings.Contains(string(text), "Middle") {
			t.Errorf("save %d: the plan is gone", i)
		}
	}
}

// A save tells the browser that there is a newer page.
func TestWatchTellsOfSaves(t *testing.T) {
	folder, address := watched(t)
	response, err := http.Get(address + "events?1")
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	lines := bufio.NewScanner(response.Body)
	for _, want := range []string{"data: 2", "data: 3"} {
		save(t, folder, "notes.txt", "nothing of the scenario's")
		save(t, folder, "watched.scenario", watchedBrief+"// "+want)
		got := ""
		for got == "" && lines.Scan() {
			got = lines.Text()
		}
		if got != want {
			t.Errorf("told %q, want %q", got, want)
		}
	}
}

// Of what happens in a folder only the saves of the files that are followed are told, each
// once, however many steps it takes.
func TestSavesAreTold(t *testing.T) {
	synctest.Test(t, func(t *testing.T) { // in which time passes only while all wait
		s := &saves{follows: make(chan map[string]bool), saved: make(chan struct{}, 1)}
		events, lost := make(chan fsnotify.Event), make(chan error)
		go s.run(events, lost)
		s.follows <- map[string]bool{"/a.scenario": true, "/kit.catalog": true}
		expect := func(what string, want int) {
			t.Helper()
			time.Sleep(2 * settleTime)
			if got := len(s.saved); got != want {
				t.Errorf("%s: told %d times, want %d", what, got, want)
			}
			for len(s.saved) > 0 {
				<-s.saved
			}
		}
		events <- fsnotify.Event{Name: "/notes.txt", Op: fsnotify.Create}
		expect("another file", 0)
		events <- fsnotify.Event{Name: "/a.scenario", Op: fsnotify.Chmod}
		expect("other rights", 0)
		for range 5 { // an editor that writes in steps
			events <- fsnotify.Event{Name: "/a.scenario", Op: fsnotify.Write}
			if time.Sleep(settleTime / 2); len(s.saved) > 0 {
				t.Error("a save is told before its last step")
			}
		}
		expect("a save in steps", 1)
		expect("after a save", 0)
		events <- fsnotify.Event{Name: "/kit.catalog", Op: fsnotify.Create}
		expect("what the scenario reads", 1)
		lost <- fsnotify.ErrEventOverflow
		expect("lost events", 1)
		s.follows <- map[string]bool{"/a.scenario": true}
		events <- fsnotify.Event{Name: "/kit.catalog", Op: fsnotify.Create}
		expect("what it no longer reads", 0)
		close(events)
	})
}

func TestWatchRefuses(t *testing.T) {
	for name, args := range map[string][]string{
		"standard input":   {"watch", "-"},
		"a file not there": {"watch", filepath.Join(t.TempDir(), "no.scenario")},
	} {
		var complaints strings.Builder
		if got := Main(args, strings.NewReader(""), new(strings.Builder), &complaints); got != exitBadInput {
			t.Errorf("%s: exit code %d, want %d", name, got, exitBadInput)
		}
		if complaints.Len() == 0 {
			t.Errorf("%s: nothing is said", name)
		}
	}
}
