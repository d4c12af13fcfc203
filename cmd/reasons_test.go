package cmd_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What a criterion always says is not said again beside the words of a limit that hold it.
func TestNoReasonIsSaidTwice(t *testing.T) {
	path := filepath.Join(t.TempDir(), "way.scenario")
	const tooLong = `use demo
scenario "Too long a way" {
  camera "House body A"
  rig    "Short sled"
}
shot "1" {
  subject  person 1.75m
  frame    close
  distance 1.6m..2.9m
  move     lead 1m/s
  light    1000lx
}
`
	if err := os.WriteFile(path, []byte(tooLong), 0o600); err != nil {
		t.Fatal(err)
	}
	_, text := run(t, "why", path, "--shot", "1", "--width", "200")
	for _, once := range []string{"the frame is 0.", " focused at 2.10 m"} {
		if n := strings.Count(text, once); n != 1 {
			t.Errorf("%q stands %d times in the text, want once:\n%s", once, n, text)
		}
	}
}
