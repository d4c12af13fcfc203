package cmd

import (
	"cmp"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"
)

// bashRequest asks what bash shall offer at the end of a command line. Two arguments stand behind it: the
// line, and the characters that end a word in bash. The first line of the answer is "words" or "files", and
// each other line a reply: a word as it must be typed, or the plain name of a file, which bash quotes by
// itself. An empty answer leaves the offer to bash. Bash gives words as they were typed, and a script cannot
// take their quotes away without running what stands between them; so the program reads the line.
const bashRequest = "__bash"

// answerBash writes the answer to [bashRequest].
func (a *app) answerBash(args []string) int {
	if len(args) != 2 {
		return exitBadInput
	}
	l := readBash(args[0], args[1])
	if l.unknown || len(l.words) < 2 {
		return exitFine
	}
	var out strings.Builder
	newApp(strings.NewReader(""), &out, io.Discard).run(append([]string{cobra.ShellCompNoDescRequestCmd}, l.words[1:]...))
	list := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	number, err := strconv.Atoi(strings.TrimPrefix(list[len(list)-1], ":"))
	if err != nil {
		return exitFine // there was a fault
	}
	list = list[:len(list)-1]
	typed, flag := l.words[len(l.words)-1], ""
	if name, value, ok := strings.Cut(typed, "="); ok && strings.HasPrefix(name, "-") {
		typed, flag = value, name+"="
	}
	kind := "words"
	switch directive := cobra.ShellCompDirective(number); {
	case directive&cobra.ShellCompDirectiveFilterFileExt != 0:
		kind, list = "files", filesFor(typed, list)
	case directive&cobra.ShellCompDirectiveFilterDirs != 0:
		kind, list = "files", filesFor(typed, nil)
	case directive&cobra.ShellCompDirectiveNoFileComp == 0 && len(list) == 0:
		return exitFine
	}
	var b strings.Builder
	b.WriteString(kind + "\n")
	for _, word := range list {
		if word == "" || !strings.HasPrefix(flag+word, flag+typed) {
			continue
		}
		rest := (flag + word)[min(l.replaced, len(flag+word)):]
		if kind == "words" {
			rest = l.quoted(rest)
		}
		b.WriteString(rest + "\n")
	}
	if _, err := io.WriteString(a.stdout, b.String()); err != nil {
		return exitFault
	}
	return exitFine
}

// A bashLine is a command line as bash reads it, up to where somebody types.
type bashLine struct {
	words    []string // without quotes; the last one is being typed
	quote    byte     // of the last word that is still open; 0 for none
	replaced int      // where in the last word the part begins that bash replaces
	unknown  bool     // where bash splits the last word cannot be told
}

// readBash splits a command line into words. It puts nothing in for variables, commands and patterns.
func readBash(line, breaks string) bashLine {
	var l bashLine
	var word strings.Builder
	begun, closed := false, false
	for i := 0; i < len(line); i++ {
		c := line[i]
		escapes := c == '\\' && i+1 < len(line)
		switch {
		case l.quote != 0 && c == l.quote:
			l.quote, closed = 0, true
		case l.quote == '\'', l.quote == '"' && !(escapes && strings.IndexByte("$`\"\\", line[i+1]) >= 0):
			word.WriteByte(c)
		case escapes:
			i++
			word.WriteByte(line[i])
			begun = true
		case c == ' ', c == '\t', c == '\n':
			if begun {
				l.words = append(l.words, word.String())
				word.Reset()
			}
			begun, closed, l.replaced = false, false, 0
		case c == '\'', c == '"':
			l.quote, l.replaced, begun = c, word.Len(), true
		case strings.IndexByte(";|&()<>", c) >= 0: // another command, or a file for its output
			return bashLine{unknown: true}
		default:
			word.WriteByte(c)
			begun = true
			if strings.IndexByte(breaks, c) >= 0 {
				if l.replaced = word.Len(); c == '@' { // bash keeps it: a host may begin with it
					l.replaced--
				}
			}
		}
	}
	l.words = append(l.words, word.String())
	l.unknown = closed
	return l
}

// quoted writes a text as it must be typed behind what stands there already. Where a quote is open, bash
// takes it for that of a text that begins with one, and closes it unless the text ends in one.
func (l bashLine) quoted(text string) string {
	var b strings.Builder
	for _, c := range text {
		switch l.quote {
		case '\'':
			if c == '\'' {
				b.WriteString(`'\''`)
				continue
			}
		case '"':
			switch c {
			case '"', '!': // a ! calls old commands back within such quotes, even behind a backslash
				b.WriteString(`"'` + string(c) + `'"`)
				continue
			case '$', '`', '\\':
				b.WriteByte('\\')
			}
		default:
			if c < unicode.MaxASCII && !unicode.IsLetter(c) && !unicode.IsDigit(c) && !strings.ContainsRune("_-+=./:@%,", c) {
				b.WriteByte('\\')
			}
		}
		b.WriteRune(c)
	}
	out, quote := b.String(), string(l.quote)
	if l.quote == 0 {
		return out
	}
	if strings.HasPrefix(out, quote) {
		out = quote + out
	}
	if strings.HasSuffix(out, quote) {
		out += quote
	}
	return out
}

// filesFor lists the files that a path may be completed to: folders, and files with one of the endings.
// It gives none for a path that begins with ~, which only the shell can read.
func filesFor(typed string, endings []string) (list []string) {
	folder, begin := filepath.Split(typed)
	if strings.HasPrefix(typed, "~") {
		return nil
	}
	entries, err := os.ReadDir(cmp.Or(folder, ".")) // with its last slash, a pipe is no folder, and is not waited for
	if err != nil {
		return nil
	}
	for _, entry := range entries {
		name := entry.Name()
		if !strings.HasPrefix(name, begin) || begin == "" && strings.HasPrefix(name, ".") {
			continue
		}
		info, err := os.Stat(folder + name)
		if err == nil && info.IsDir() || slices.Contains(endings, strings.TrimPrefix(filepath.Ext(name), ".")) {
			list = append(list, folder+name)
		}
	}
	return offered(list)
}
