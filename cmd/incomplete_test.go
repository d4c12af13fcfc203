package cmd

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang/langtest"
)

// needed are the keywords without which an item or a shot is refused.
var needed = []string{"mount", "focal", "from", "mode", "kind", "thread", "flange", "camera", "rig", "subject", "frame", "distance", "rent", "iso"}

// thinned leaves some of the lines of blocks out that may be left out.
func thinned(text string, share float64, random *rand.Rand) string {
	var kept []string
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		isFact := strings.HasPrefix(line, "  ") && len(words) > 0 && !strings.HasSuffix(words[len(words)-1], "{") && words[0] != "}"
		if isFact && !slices.Contains(needed, words[0]) && random.Float64() < share {
			continue
		}
		kept = append(kept, line)
	}
	return strings.Join(kept, "")
}

// blank finds what a sentence leaves where it has nothing to say.
var blank = regexp.MustCompile(`[A-Za-z0-9,:;"] +[.,;](\s|$)|[a-z][:,] *[.,;]|\b(its|are|and|or|with|of|lacks|missing|bring|kit is)\s*\.(\s|$)|` +
	`: +missing|\bgives *(;|$)|""|%!|NaN|\+Inf|<nil>|\(\)`)

// Whatever is not known, no verb says a sentence with a blank in it.
func TestNoSentenceHasABlank(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	demo, err := os.ReadFile("../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	whole := regexp.MustCompile(`(?m)^(expect|  script|  scene|  heading).*\n`).ReplaceAllString(strings.Replace(string(demo), "use demo", `use "kit.catalog"`, 1), "")
	answered := 0
	for seed := range uint64(langtest.Cases(8)) {
		random := rand.New(rand.NewPCG(seed, 11))
		share := []float64{0.9, 0.6, 0.3, 0.1, 0.02}[seed%5]
		folder := t.TempDir()
		for name, text := range map[string]string{
			"kit.catalog": thinned(catalog.Demo().Text, share, random), "day.scenario": thinned(whole, share, random), "whole.scenario": whole,
		} {
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		day := filepath.Join(folder, "day.scenario")
		for _, args := range [][]string{
			{"check", day}, {"recommend", day}, {"cards", day}, {"audit", day}, {"compare", filepath.Join(folder, "whole.scenario"), day},
			{"why", day, "--shot", "4A"}, {"why", day, "--shot", "9A", "--lens", "Old 28"},
			{"catalog", "doctor", day}, {"catalog", "show", "Old 28", "--catalog", filepath.Join(folder, "kit.catalog")},
		} {
			var stdout, stderr bytes.Buffer
			code := Main(append(args, "--width", "400"), strings.NewReader(""), &stdout, &stderr)
			if code > 2 {
				t.Fatalf("seed %d: %s ends with %d: %s", seed, args[0], code, stderr.String())
			}
			if code < 2 {
				answered++
			}
			for line := range strings.Lines(stdout.String() + stderr.String()) {
				if found := blank.FindString(line); found != "" {
					t.Errorf("seed %d, share %g: %s: %q in %s", seed, share, strings.Join(args, " "), found, line)
				}
			}
		}
	}
	if answered == 0 {
		t.Error("nothing was answered")
	}
}
