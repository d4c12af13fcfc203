package exposure

import "testing"

func TestLevelsRunFromDarkToBright(t *testing.T) {
	seen := map[string]bool{}
	last := 0.0
	for _, name := range LevelNames() {
		level, ok := NamedLevel(name)
		if !ok || level.Name != name {
			t.Errorf("%q: got %q %t, want it by its name", name, level.Name, ok)
		}
		if seen[name] {
			t.Errorf("%q stands twice", name)
		}
		seen[name] = true
		if level.Source == "" {
			t.Errorf("%q has no source", name)
		}
		if level.Lux < last {
			t.Errorf("%q: got %g lx after %g lx, want dark to bright", name, level.Lux, last)
		}
		last = level.Lux
	}
	if _, ok := NamedLevel("gloomy"); ok {
		t.Error("the level \"gloomy\" was taken")
	}
}
