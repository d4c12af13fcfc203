package cmd

import (
	"runtime/debug"
	"strings"
)

// version gives the version that the Go toolchain recorded when it built the binary.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" {
		return "(devel)"
	}
	return info.Main.Version
}

// versionAndDay gives the version, and the day of the commit that the binary was built from where that
// was recorded, as it is in a release.
func versionAndDay() string {
	info, ok := debug.ReadBuildInfo()
	if ok {
		for _, setting := range info.Settings {
			if day, _, found := strings.Cut(setting.Value, "T"); found && setting.Key == "vcs.time" {
				return version() + " of " + day
			}
		}
	}
	return version()
}
