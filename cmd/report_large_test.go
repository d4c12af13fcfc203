package cmd

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// largeBrief has 200 shots for two cameras; its catalogue has 60 lenses.
func largeBrief() string {
	var b strings.Builder
	b.WriteString("use \"large.catalog\"\nscenario \"Large\" {\n camera \"Body\" or \"Other body\"\n rig \"Sled\"\n}\n")
	subjects := []string{"person 1.7m", "people 1.6m x 1.75m", "object 0.9m x 1.4m"}
	frames := []string{"medium", "medium-full", "full", "close..medium", "wide"}
	moves := []string{"hold", "lead 1.2m/s", "follow 1m/s", "orbit 0.8m/s", "push-in 0.5m/s", "side 1m/s"}
	for i := range 200 {
		fmt.Fprintf(&b, "shot \"%d%c\" \"What happens in shot %d\" {\n scene %d\n subject %s\n frame %s\n distance %.2fm..%.2fm\n move %s\n light %dlx\n}\n",
			i/4+1, 'A'+i%4, i+1, i/4+1, subjects[i%3], frames[i%5], 1.2+float64(i%17)*0.2, 1.6+float64(i%17)*0.25, moves[i%6], 60+i*7)
	}
	return b.String()
}

func largeCatalog() string {
	var b strings.Builder
	b.WriteString("mount \"M\" {\n flange 18mm\n}\ncamera \"Body\" {\n mount \"M\"\n mode \"Whole\" 24.89mm x 18.67mm\n iso 800\n iso_range 200..12800\n mass 1kg\n}\ncamera \"Other body\" {\n mount \"M\"\n mode \"Whole\" 36mm x 24mm\n iso 640\n iso_range 100..25600\n mass 900g\n}\nrig \"Sled\" {\n payload 0.9kg..3kg\n wobble 0.2deg\n isolation 70%\n}\n")
	for i := range 60 {
		fmt.Fprintf(&b, "lens \"Lens number %d\" {\n have owned\n mount \"M\"\n focal %.1fmm\n aperture f/%.1f..f/22\n transmission T%.1f\n close_focus 0.3m\n circle 44mm\n mass %dg\n length 80mm\n distortion -%.1f%%\n}\n",
			i+1, 10+float64(i)*0.9, 1.4+float64(i%5)*0.5, 1.6+float64(i%5)*0.5, 300+i*10, float64(i%4))
	}
	return b.String()
}

// largeScenario writes the brief and its catalogue to files.
func largeScenario(t testing.TB) string {
	t.Helper()
	folder := t.TempDir()
	path := filepath.Join(folder, "large.scenario")
	for name, text := range map[string]string{path: largeBrief(), filepath.Join(folder, "large.catalog"): largeCatalog()} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return path
}

// recommendedAs runs the verb and gives the size of what it writes and the time it takes.
func recommendedAs(t testing.TB, path, form string) (size int, took time.Duration) {
	t.Helper()
	var out, complaints bytes.Buffer
	start := time.Now()
	if code := Main([]string{"recommend", path, "--as", form}, strings.NewReader(""), &out, &complaints); code != 0 {
		t.Fatalf("exit code %d: %s", code, complaints.String())
	}
	return out.Len(), time.Since(start)
}

// A page for a whole series stays small enough to send, and is no slower to make than
// three times the JSON of the same answer.
func TestLargeReport(t *testing.T) {
	path := largeScenario(t)
	size, html := recommendedAs(t, path, "html")
	const most = 5_000_000
	if size > most {
		t.Errorf("the report has %d bytes, want at most %d", size, most)
	}
	_, json := recommendedAs(t, path, "json")
	// Other programs may get in the way of one run.
	for range 3 {
		if html < 3*json {
			return
		}
		_, again := recommendedAs(t, path, "html")
		html = min(html, again)
	}
	t.Errorf("the report takes %v, and JSON %v", html, json)
}

func BenchmarkRecommendAs(b *testing.B) {
	path := largeScenario(b)
	for _, form := range []string{"json", "html"} {
		b.Run(form, func(b *testing.B) {
			for b.Loop() {
				size, _ := recommendedAs(b, path, form)
				b.ReportMetric(float64(size)/1e6, "MB")
			}
		})
	}
}
