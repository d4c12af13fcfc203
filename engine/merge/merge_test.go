package merge

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func shapes() lang.Shape {
	all := brief.Shape()
	maps.Copy(all, catalog.Shape())
	maps.Copy(all, rules.Shape())
	return all
}

func merged(base, ours, theirs string) Result {
	return Merge(Version{"base", base}, Version{"ours", ours}, Version{"theirs", theirs}, Options{Shape: shapes(), Ours: "ours", Theirs: "theirs"})
}

// shots writes shots by their names, each with a line.
func shots(names string) string {
	var b strings.Builder
	for _, name := range names {
		fmt.Fprintf(&b, "shot \"%c\" {\n  weight    %d\n}\n", name, name)
	}
	return b.String()
}

// shot writes a shot.
func shot(name, scene, light, distance string) string {
	return fmt.Sprintf("shot \"%s\" {\n  scene     %s\n  light     %s\n  distance  %s\n}\n", name, scene, light, distance)
}

// marked writes a conflict.
func marked(ours, theirs string) string {
	return "<<<<<<< ours\n" + ours + "=======\n" + theirs + ">>>>>>> theirs\n"
}

func TestMerge(t *testing.T) {
	tests := []struct {
		name               string
		base, ours, theirs string
		want               string
		conflicts          []string // block and field of each
	}{
		{"nothing", "", "", "", "", nil},
		{"two statements of a shot", "shot \"A\" {\n  scene 1\n  weight 1\n}\n", "shot \"A\" {\n  scene 2\n  weight 1\n}\n", "shot \"A\" {\n  scene 1\n  weight 2\n}\n", "shot \"A\" {\n  scene 2\n  weight 2\n}\n", nil},
		{"two new statements at one place", "shot \"A\" {\n  scene 1\n}\n", "shot \"A\" {\n  scene 1\n  weight 1\n}\n", "shot \"A\" {\n  scene 1\n  light 2lx\n}\n", "shot \"A\" {\n  scene 1\n  weight 1\n  light 2lx\n}\n", nil},
		{"two of what may be repeated", "scenario \"X\" {\n  bring \"A\"\n}\n", "scenario \"X\" {\n  bring \"A\"\n  bring \"B\"\n}\n", "scenario \"X\" {\n  bring \"A\"\n  bring \"C\"\n}\n", "scenario \"X\" {\n  bring \"A\"\n  bring \"B\"\n  bring \"C\"\n}\n", nil},
		{"one says the edition, one adds a first line", "// a file\n\nuse demo\n", "use \"a\"\n\n// a file\n\nuse demo\n", "glassbrief 1\n\n// a file\n\nuse demo\n", "glassbrief 1\nuse \"a\"\n\n// a file\n\nuse demo\n", nil},
		{"both say the edition", "use demo\n", "glassbrief 1\nuse demo\n", "glassbrief 1\nuse demo\n", "glassbrief 1\nuse demo\n", nil},
		{"both add the same", "use demo\n", "use demo\nuse \"a\"\n", "use demo\nuse \"a\"\n", "use demo\nuse \"a\"\n", nil},
		{"one changes, one takes out another", "use \"a\"\nuse \"b\"\n", "use \"a2\"\nuse \"b\"\n", "use \"a\"\n", "use \"a2\"\n", nil},
		{"both change one", "shot \"A\" {\n  scene 1\n}\n", "shot \"A\" {\n  scene 2\n}\n", "shot \"A\" {\n  scene 3\n}\n",
			"shot \"A\" {\n<<<<<<< ours\n  scene 2\n=======\n  scene 3\n>>>>>>> theirs\n}\n", []string{`shot "A" scene`}},
		{"both change one that may be repeated", "scenario \"X\" {\n  bring \"A\"\n}\n", "scenario \"X\" {\n  bring \"B\"\n}\n", "scenario \"X\" {\n  bring \"C\"\n}\n",
			"scenario \"X\" {\n<<<<<<< ours\n  bring \"B\"\n=======\n  bring \"C\"\n>>>>>>> theirs\n}\n", []string{`scenario "X" bring`}},
		{"both add one in two ways", "shot \"A\" {\n}\n", "shot \"A\" {\n  scene 2\n}\n", "shot \"A\" {\n  scene 3\n}\n",
			"shot \"A\" {\n<<<<<<< ours\n  scene 2\n=======\n  scene 3\n>>>>>>> theirs\n}\n", []string{`shot "A" scene`}},
		{"one takes out what the other changes", "shot \"A\" {\n  scene 1\n}\n", "shot \"A\" {\n}\n", "shot \"A\" {\n  scene 3\n}\n",
			"shot \"A\" {\n<<<<<<< ours\n=======\n  scene 3\n>>>>>>> theirs\n}\n", []string{`shot "A" scene`}},
		{"one takes out the shot in which the other changes a line", shots("AB"), shots("B"), strings.Replace(shots("AB"), "65", "99", 1),
			"<<<<<<< ours\n=======\nshot \"A\" {\n  weight    99\n}\n>>>>>>> theirs\n" + shots("B"), []string{`shot "A" `}},
		{"a value and the comment behind it", "use demo\n", "use demo // ours\n", "use \"a\"\n", "use \"a\" // ours\n", nil},
		{"a value and the comment above it", "// c\nuse demo\n", "// d\nuse demo\n", "// c\nuse \"a\"\n", "// d\nuse \"a\"\n", nil},
		{"two comments behind one line", "use demo // c\n", "use demo // d\n", "use demo // e\n", "<<<<<<< ours\nuse demo // d\n=======\nuse demo // e\n>>>>>>> theirs\n", []string{" use"}},
		{"two lines of a comment", "// 1\n// 2\n// 3\nuse demo\n", "// 1a\n// 2\n// 3\nuse demo\n", "// 1\n// 2\n// 3a\nuse demo\n", "// 1a\n// 2\n// 3a\nuse demo\n", nil},
		{"a remark stays where it is", "use demo\n\n// remark\n\n" + shots("AB"), "use demo\n\n// remark, changed\n\n" + shots("AB"), "use demo\nuse \"x\"\n\n// remark\n\n" + shots("BA"), "use demo\nuse \"x\"\n\n// remark, changed\n\n" + shots("BA"), nil},
		{"layout is no change", "shot \"A\" {\n  scene 1\n  distance 1m..2m\n}\n", "shot \"A\" {\n  scene     1\n  distance  1m .. 2m\n}\n", "shot \"A\" {\n  scene 2\n  distance 1m..3m\n}\n", "shot \"A\" {\n  scene 2\n  distance 1m..3m\n}\n", nil},
		{"a block on one line", "shot \"A\" { weight 1 }\n", "shot \"A\" { weight 2 }\n", "shot \"A\" { weight 1 // c\n  scene 3 }\n", "shot \"A\" {\n  weight 2 // c\n  scene 3\n}\n", nil},
		{"lines of blocks on one line", "shot \"A\" { weight 1 }\n", "shot \"A\" { weight 2 }\n", "shot \"A\" { weight 1\n  scene 3 }\n", "shot \"A\" {\n  weight 2\n  scene 3\n}\n", nil},
		{"one moves a shot, one changes it", shots("ABCD"), shots("BCDA"), strings.Replace(shots("ABCD"), "65", "99", 1), strings.Replace(shots("BCDA"), "65", "99", 1), nil},
		{"each moves a shot", shots("ABCDE"), shots("BACDE"), shots("ABCED"), shots("BACED"), nil},
		{"both move a shot to one place", shots("ABCD"), shots("BCDA"), shots("BCDA"), shots("BCDA"), nil},
		{"both move a shot elsewhere", shots("ABCD"), shots("BCDA"), shots("BACD"),
			shots("B") + marked("", shots("A")) + shots("CD") + marked(shots("A"), ""), []string{`shot "A" order`, `shot "A" order`}},
		{"moves that contradict each other", shots("ABC"), shots("BAC"), shots("ACB"), marked(shots("B"), "") + shots("AC") + marked("", shots("B")), []string{`shot "B" order`, `shot "B" order`}},
		{"each adds a shot at one place", shots("AB"), shots("ACB"), shots("ADB"), shots("ACDB"), nil},
		{"a new shot stays where the one before it leaves", shots("ABC"), shots("AXBC"), shots("BCA"), shots("XBCA"), nil},
		{"a shot renamed and changed", shot("A", "1", "2lx", "3m"), shot("Z", "1", "2lx", "3m"), shot("A", "1", "2lx", "4m"), shot("Z", "1", "2lx", "4m"), nil},
		{"a shot renamed by its title, with a change, and changed", shot(`A" "T`, "1", "2lx", "3m"), shot(`Z" "T`, "2", "2lx", "3m"), shot(`A" "T`, "1", "2lx", "4m"), shot(`Z" "T`, "2", "2lx", "4m"), nil},
		{"a shot renamed twice", shot("A", "1", "2lx", "3m"), shot("Y", "1", "2lx", "3m"), shot("Z", "1", "2lx", "3m"),
			marked("shot \"Y\" {\n", "shot \"Z\" {\n") + strings.TrimPrefix(shot("A", "1", "2lx", "3m"), "shot \"A\" {\n"), []string{`shot "Y" `}},
		{"a shot replaced by another, and changed", shot("A", "1", "2lx", "3m"), shot("Z", "9", "8lx", "7m"), shot("A", "1", "2lx", "4m"), shot("Z", "9", "8lx", "7m") + marked("", shot("A", "1", "2lx", "4m")), []string{`shot "A" `}},
		{"a lens moved by both", "lens \"A\" {\n}\nlens \"B\" {\n}\nlens \"C\" {\n}\n", "lens \"B\" {\n}\nlens \"A\" {\n}\nlens \"C\" {\n}\n", "lens \"B\" {\n}\nlens \"C\" {\n}\nlens \"A\" {\n}\n", "lens \"B\" {\n}\nlens \"A\" {\n}\nlens \"C\" {\n}\n", nil},
		{"modes of a camera", "camera \"A\" {\n  mode \"X\" 1mm x 1mm\n  mode \"Y\" 1mm x 1mm\n}\n", "camera \"A\" {\n  mode \"X\" 2mm x 1mm\n  mode \"Y\" 1mm x 1mm\n}\n", "camera \"A\" {\n  mode \"X\" 1mm x 1mm\n  mode \"Y\" 3mm x 1mm\n}\n", "camera \"A\" {\n  mode \"X\" 2mm x 1mm\n  mode \"Y\" 3mm x 1mm\n}\n", nil},
		{"a block in a block", "lens \"A\" {\n  correction {\n    crop 1\n    aspect 1.5\n  }\n}\n", "lens \"A\" {\n  correction {\n    crop 2\n    aspect 1.5\n  }\n}\n", "lens \"A\" {\n  correction {\n    crop 1\n    aspect 1.4\n  }\n}\n", "lens \"A\" {\n  correction {\n    crop 2\n    aspect 1.4\n  }\n}\n", nil},
		{"amendments", "amend lens \"A\" {\n  mass 1kg\n  length 9mm\n}\n", "amend lens \"A\" {\n  mass 2kg\n  length 9mm\n}\n", "amend lens \"A\" {\n  mass 1kg\n  length 8mm\n}\namend lens \"B\" {\n  mass 1kg\n}\n", "amend lens \"A\" {\n  mass 2kg\n  length 8mm\n}\namend lens \"B\" {\n  mass 1kg\n}\n", nil},
		{"facts and criteria", "fact aa = 1\nfact bb = 2\ncriterion \"C\" {\n  weight 1\n  score 0.5\n}\n", "fact aa = 3\nfact bb = 2\ncriterion \"C\" {\n  weight 1\n  score (0.5 +\n    0.1)\n}\n", "fact aa = 1\nfact bb = 4\ncriterion \"C\" {\n  weight 2\n  score 0.5\n}\n", "fact aa = 3\nfact bb = 4\ncriterion \"C\" {\n  weight 2\n  score (0.5 +\n    0.1)\n}\n", nil},
		{"no end of the last line", "use demo\nuse \"a\"", "use demo\nuse \"b\"", "use \"c\"\nuse \"a\"", "use \"c\"\nuse \"b\"", nil},
		{"carriage returns", "use demo\r\nuse \"a\"\r\n", "use demo\r\nuse \"b\"\r\n", "use \"c\"\r\nuse \"a\"\r\n", "use \"c\"\r\nuse \"b\"\r\n", nil},
		{"one side has other ends of lines", "use demo\r\nuse \"a\"\r\n", "use demo\nuse \"b\"\n", "use \"c\"\r\nuse \"a\"\r\n", "use \"c\"\nuse \"b\"\n", nil},
		{"a mark at the beginning", byteOrderMark + "use demo\nuse \"a\"\n", byteOrderMark + "use demo\nuse \"b\"\n", "use \"c\"\nuse \"a\"\n", "use \"c\"\nuse \"b\"\n", nil},
		{"empty lines", "use demo\nuse \"a\"\n", "use demo\n\n\nuse \"a\"\n\n", "use \"c\"\nuse \"a\"\n", "use \"c\"\n\n\nuse \"a\"\n\n", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := merged(test.base, test.ours, test.theirs)
			if r.Unread != nil {
				t.Fatalf("a version cannot be read: %v", r.Unread)
			}
			var conflicts []string
			for _, c := range r.Conflicts {
				conflicts = append(conflicts, c.Block+" "+c.Field)
			}
			if diff := cmp.Diff(test.conflicts, conflicts); diff != "" {
				t.Errorf("conflicts differ (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(test.want, r.Text); diff != "" {
				t.Errorf("the text differs (-want +got):\n%s", diff)
			}
			for _, c := range r.Conflicts {
				if line := strings.Split(r.Text, "\n")[c.Line-1]; line != "<<<<<<< ours" {
					t.Errorf("line %d is %q, want the first mark", c.Line, line)
				}
			}
			if back := merged(test.base, test.theirs, test.ours); len(back.Conflicts) != len(r.Conflicts) {
				t.Errorf("with the sides swapped: %d conflicts, want %d", len(back.Conflicts), len(r.Conflicts))
			}
		})
	}
}
