package program

import (
	"cmp"
	"context"
	"os"
	"path/filepath"
	"slices"
	"time"

	"glassbrief/cmd/lock"
)

const (
	kept     = 4                      // engines in the cache; those used longest ago go
	lockWait = 100 * time.Millisecond // between two looks whether another run is done
)

// cached gives the engine that the cache holds under a key, or builds it and puts it there. A second run
// that builds waits for the first. A file that is not whole is built anew. The build may use the folder.
func cached(ctx context.Context, key string, build func(folder string) (*built, error)) (*Program, error) {
	folder, err := os.UserCacheDir()
	if err != nil {
		return nil, &Missing{"there is no cache folder to keep an engine for pages in", err}
	}
	folder = filepath.Join(folder, "glassbrief")
	name := filepath.Join(folder, "engine-"+key)
	if b := look(name); b != nil {
		return b.program(), nil
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, &Missing{"the engine for pages cannot be kept in the cache folder", err}
	}
	release, err := lock.Take(ctx, filepath.Join(folder, "lock"), lockWait)
	switch {
	case ctx.Err() != nil:
		return nil, &Missing{"another run builds the engine for pages, and is not done: " + ended(ctx.Err()), err}
	case err == nil:
		defer release()
		sweep(folder)
	} // where no file can be locked, two runs build the same, and the later takes the other's place
	if b := look(name); b != nil { // another run was building it
		return b.program(), nil
	}
	b, err := build(folder)
	if err != nil {
		return nil, err
	}
	if err := put(name, b.file()); err != nil {
		return nil, &Missing{"the engine for pages cannot be kept in the cache folder", err}
	}
	prune(folder)
	return b.program(), nil
}

// look gives the engine in a file of the cache, or nil, and notes that it was used.
func look(name string) *built {
	file, err := os.ReadFile(name)
	if err != nil {
		return nil
	}
	b, err := open(file)
	if err != nil {
		return nil
	}
	now := time.Now()
	_ = os.Chtimes(name, now, now) // it is only thrown away the earlier
	return b
}

// put writes a file of the cache in one step.
func put(name string, file []byte) error {
	temporary, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*.tmp")
	if err != nil {
		return err
	}
	defer os.Remove(temporary.Name()) // when it did not take its name
	if _, err := temporary.Write(file); err != nil {
		temporary.Close()
		return err
	}
	if err := temporary.Close(); err != nil {
		return err
	}
	return os.Rename(temporary.Name(), name)
}

// sweep clears away what runs that were cut off left in the folder, whose lock is held. Each engine had a
// lock of its own once, which stayed.
func sweep(folder string) {
	for _, pattern := range []string{scratch + "*", ".engine-*.tmp", "engine-*.lock"} {
		left, _ := filepath.Glob(filepath.Join(folder, pattern))
		for _, name := range left {
			os.RemoveAll(name)
		}
	}
}

// prune throws away all but the engines that were used last.
func prune(folder string) {
	type use struct {
		name string
		at   time.Time
	}
	var all []use
	names, _ := filepath.Glob(filepath.Join(folder, "engine-*"))
	for _, name := range names {
		if info, err := os.Stat(name); err == nil {
			all = append(all, use{name, info.ModTime()})
		}
	}
	slices.SortFunc(all, func(a, b use) int { return cmp.Or(b.at.Compare(a.at), cmp.Compare(a.name, b.name)) })
	for _, old := range all[min(kept, len(all)):] {
		os.Remove(old.name)
	}
}
