package browsertest_test

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"glassbrief/cmd/browsertest"
)

// The checks must find what they are for.
func TestFaultsAreFound(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/" {
			w.Header().Set("Content-Type", "text/html")
			w.Write([]byte(`<title>t</title><body><img src="/picture"><p style="color:#ccc">faint</p><script>console.log("hello")</script>`))
			return
		}
		http.NotFound(w, r)
	}))
	defer server.Close()
	page := browsertest.Start(t).Open(t, server.URL+"/", 800, "light")
	page.Await(`document.readyState == "complete"`)
	if got := page.Violations(); len(got) < 3 {
		t.Errorf("got %d violations, want at least those of language, picture and contrast: %q", len(got), got)
	}
	if got := page.Faults(); len(got) < 2 {
		t.Errorf("got %q, want the message and the failed request", got)
	}
	if got := page.Asked(); len(got) < 2 {
		t.Errorf("the page asked for %q, want the picture too", got)
	}
}
