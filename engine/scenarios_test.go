package engine_test

import (
	"os"
	"path/filepath"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang"
)

// The scenarios that come with glassbrief load without a finding, say what they expect,
// and what they expect holds, with every shot covered.
func TestScenariosThatComeAlong(t *testing.T) {
	const folder = "../scenarios"
	files, err := filepath.Glob(filepath.Join(folder, "*.scenario"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no scenarios: %v", err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			src, ds := lang.NewSource(filepath.Base(file), text)
			if ds != nil {
				t.Fatal(ds)
			}
			s, ds := brief.Load(src, brief.Files{Tree: os.DirFS(folder)})
			if len(ds) > 0 {
				t.Fatal(ds)
			}
			if len(s.Expects) == 0 {
				t.Error("it expects nothing")
			}
			broken, err := engine.CheckExpectations(t.Context(), s)
			if err != nil || len(broken) > 0 {
				t.Errorf("%v %v", broken, err)
			}
			if left := enginetest.Recommend(t, s, engine.Options{}).Kit.Uncovered; len(left) > 0 {
				t.Errorf("not covered: %v", left)
			}
		})
	}
}
