package merge

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// In a merged order each pair stands as the side has it that turned it round, or as all have it. A thing
// that both moved, and that is not apart, stands between the things that none moved where both have it.
func TestOrder(t *testing.T) {
	joined := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 9).Draw(t, "things")
		moved := func(name string) []int {
			order := make([]int, n)
			for i := range order {
				order[i] = i
			}
			for range rapid.IntRange(0, 2).Draw(t, name) {
				if n > 1 {
					from, to := rapid.IntRange(0, n-1).Draw(t, "from"), rapid.IntRange(0, n-1).Draw(t, "to")
					x := order[from]
					order = slices.Insert(slices.Delete(order, from, from+1), to, x)
				}
			}
			return order
		}
		ours, theirs := moved("ours"), moved("theirs")
		o := order(ours, theirs)
		all := append(slices.Clone(o.merged), o.apart...)
		if slices.Sort(all); len(all) != n || len(slices.Compact(all)) != n {
			t.Fatalf("%v and %v: %v and apart %v are not all of them once", ours, theirs, o.merged, o.apart)
		}
		inOurs, inTheirs := places(ours), places(theirs)
		for i, x := range o.merged {
			for _, y := range o.merged[i+1:] {
				want := x < y
				if a, b := inOurs[x] < inOurs[y], inTheirs[x] < inTheirs[y]; a == b {
					want = a
				} else {
					want = !want
				}
				if !want {
					t.Fatalf("%v and %v: %v has %d before %d", ours, theirs, o.merged, x, y)
				}
			}
		}
		if len(o.apart) == 0 && !slices.Equal(o.merged, ours) && !slices.Equal(o.merged, theirs) {
			joined++
		}
		back := order(theirs, ours)
		if slices.Equal(back.apart, o.apart) && !slices.Equal(back.merged, o.merged) {
			t.Fatalf("%v and %v: %v, and swapped %v", ours, theirs, o.merged, back.merged)
		}
	})
	if langtest.Enough(100) && joined == 0 {
		t.Error("no order of both was drawn")
	}
}

// A merge by lines comes to what git comes to, where no line stands twice.
func TestLinesAsGitMerges(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		langtest.Lacking(t, "git")
	}
	random := rand.New(rand.NewPCG(18, 7))
	folder := t.TempDir()
	clean := 0
	for i := range langtest.Cases(60) {
		base := make([]string, random.IntN(20))
		for k := range base {
			base[k] = fmt.Sprintf("line %d\n", k)
		}
		edited := func(side string) string {
			lines := slices.Clone(base)
			for k := range random.IntN(4) {
				at := random.IntN(len(lines) + 1)
				switch new := fmt.Sprintf("%s %d\n", side, k); {
				case at == len(lines) || random.IntN(2) == 0:
					lines = slices.Insert(lines, at, new)
				case random.IntN(2) == 0:
					lines = slices.Delete(lines, at, at+1)
				default:
					lines[at] = new
				}
			}
			return strings.Join(lines, "")
		}
		texts := [3]string{edited("ours"), strings.Join(base, ""), edited("theirs")}
		args := []string{"merge-file", "-p", "-L", "ours", "-L", "base", "-L", "theirs"}
		for k, text := range texts {
			args = append(args, filepath.Join(folder, fmt.Sprint(k)))
			if err := os.WriteFile(args[len(args)-1], []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		want, err := exec.Command("git", args...).Output()
		m := &merger{Options: Options{Ours: "ours", Theirs: "theirs", Marks: usualMarks}}
		m.lines(texts[1], texts[0], texts[2])
		if got := m.out.String(); (err != nil) != (len(m.conflicts) > 0) || err == nil && got != string(want) {
			t.Fatalf("case %d, %q: got\n%s\nand git has %v\n%s", i, texts, got, err, want)
		}
		if err == nil {
			clean++
		}
	}
	if langtest.Enough(100) && (clean == 0 || clean == langtest.Cases(60)) {
		t.Errorf("%d of the texts merge", clean)
	}
}
