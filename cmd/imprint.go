package cmd

import (
	"crypto/sha1" //nolint:gosec // it names a file as git does, and protects nothing
	"encoding/hex"
	"fmt"
	"os"
	"strconv"
	"time"

	"glassbrief/engine"
)

// imprint says which plan a card or a page is of: production, camera, rig, unit, the revision of the
// scenario, and the day on which it was made.
func imprint(r *engine.Recommendation) []string {
	s := r.Scenario
	said := []string{s.Name, r.Camera.Name.Value, s.Rig.Name.Value}
	if s.Unit != "" {
		said = append(said, s.Unit)
	}
	if source := s.Span.Source; source != nil {
		said = append(said, "revision "+revisionOf(source.Text))
	}
	return append(said, today().Format("2 Jan 2006"))
}

// revisionOf gives the first seven digits of the name that git has for a file with this text, so that
// "git log --find-object" finds where it came in.
func revisionOf(text string) string {
	sum := sha1.Sum(fmt.Appendf(nil, "blob %d\x00%s", len(text), text)) //nolint:gosec // as above
	return hex.EncodeToString(sum[:])[:7]
}

// today gives the day of a page: that of SOURCE_DATE_EPOCH, so that a page can be made again as it
// was, or this one.
func today() time.Time {
	if seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(seconds, 0).UTC()
	}
	return time.Now()
}
