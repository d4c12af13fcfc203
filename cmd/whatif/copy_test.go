package whatif

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
)

// A button copies the text beside it. Where the browser refuses the clipboard or has none for the page, the
// page says so and selects all of the text, for the reader to copy.
func TestCopying(t *testing.T) {
	browser := browsertest.Start(t)
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)))
	page.slide("4A.distance", "4", 0)
	page.Await(`document.getElementById("as-lines").value !== "" && document.getElementById("as-patch").value !== ""`)
	copies := func(of string) {
		t.Helper()
		browsertest.Eval[any](page.Page, fmt.Sprintf(`getSelection().removeAllRanges();
			document.activeElement.blur();
			document.getElementById("copied").textContent = "";
			document.querySelector("[data-do=copy][data-of=%s]").click()`, of))
		page.Await(`document.getElementById("copied").textContent !== ""`)
	}
	selected := func() string {
		return browsertest.Eval[string](page.Page, `(() => { const e = document.activeElement; return e.value ? e.id + ": " + e.value.slice(e.selectionStart, e.selectionEnd) : "" })()`)
	}
	refused := func(why string) {
		t.Helper()
		for _, of := range []string{"as-lines", "as-patch"} {
			copies(of)
			if says := page.text("copied"); !strings.HasPrefix(says, "Not copied:") {
				t.Errorf("%s: the page says %q", why, says)
			}
			text := browsertest.Eval[string](page.Page, fmt.Sprintf(`document.getElementById(%q).value`, of))
			if got, want := selected(), of+": "+text; got != want {
				t.Errorf("%s: it selects %q, want %q", why, got, want)
			}
		}
	}
	page.LetClipboard(true)
	copies("as-lines")
	if says := page.text("copied"); says != "Copied." {
		t.Errorf("with the clipboard the page says %q", says)
	}
	lines := browsertest.Eval[string](page.Page, `document.getElementById("as-lines").value`)
	if got := browsertest.Eval[string](page.Page, `navigator.clipboard.readText()`); got != lines {
		t.Errorf("the clipboard holds %q, want %q", got, lines)
	}
	page.LetClipboard(false)
	refused("refused")
	// A browser has no clipboard for a page that came over plain HTTP.
	browsertest.Eval[any](page.Page, `Object.defineProperty(navigator, "clipboard", {value: undefined})`)
	refused("without one")
	page.sound()
}
