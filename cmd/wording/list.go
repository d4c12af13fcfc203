package wording

import (
	"fmt"
	"strings"
)

// Counted writes a number of things: "1 lens", "2 lenses", "2 lens changes".
func Counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	if strings.HasSuffix(what, "s") {
		what += "e"
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// List writes a list as people do: "a, b and c".
func List(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}
