// Command release packs what .ci/release built:
//
//	release BUILT MAN FOLDER
//
// BUILT has a folder for each platform, with the program in it; MAN the pages of the manual. Into FOLDER
// go archives, packages for Debian, the lists of what is in each program, and checksums. All times are
// SOURCE_DATE_EPOCH, all owners root, and all is in the order of its names, so that the same programs
// always give the same bytes.
package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/md5" //nolint:gosec // the format of Debian's packages asks for it, and nothing relies on it
	"crypto/sha256"
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"glassbrief/cmd"
)

func main() {
	if len(os.Args) != 4 {
		fmt.Fprintln(os.Stderr, "usage: release BUILT MAN FOLDER")
		os.Exit(2)
	}
	if err := release(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// A file is one file of an archive or a package, by its path there.
type file struct {
	path string
	text []byte
	mode int64
}

func release(built, man, folder string) error {
	seconds, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64)
	if err != nil {
		return fmt.Errorf("SOURCE_DATE_EPOCH: %w", err)
	}
	at := time.Unix(seconds, 0).UTC()
	shared, err := sharedFiles(man)
	if err != nil {
		return err
	}
	platforms, err := os.ReadDir(built)
	if err != nil {
		return err
	}
	made := map[string][]byte{}
	for _, platform := range platforms {
		name := platform.Name() // glassbrief-OS-ARCH
		programs, err := filepath.Glob(filepath.Join(built, name, "*"))
		if err != nil || len(programs) != 1 {
			return fmt.Errorf("%s holds %d programs: %w", name, len(programs), err)
		}
		program, err := os.ReadFile(programs[0])
		if err != nil {
			return err
		}
		info, err := buildinfo.Read(bytes.NewReader(program))
		if err != nil {
			return err
		}
		if info.Main.Version == "" || info.Main.Version == "(devel)" {
			return fmt.Errorf("%s does not know its version", name)
		}
		if made[name+".cdx.json"], err = materials(info, program, at); err != nil {
			return err
		}
		all := append([]file{{filepath.Base(programs[0]), program, 0o755}}, shared...)
		if strings.HasPrefix(name, "glassbrief-windows-") {
			made[name+".zip"], err = zipOf(name, all, at)
		} else {
			made[name+".tar.gz"], err = tarOf(name+"/", all, at)
		}
		if err != nil {
			return err
		}
		if arch, linux := strings.CutPrefix(name, "glassbrief-linux-"); linux {
			version := debianVersion(info.Main.Version)
			if made["glassbrief_"+version+"_"+arch+".deb"], err = debian(version, arch, program, shared, at); err != nil {
				return err
			}
		}
	}
	var sums strings.Builder
	for _, name := range slices.Sorted(maps.Keys(made)) {
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(made[name]), name)
	}
	made["SHA256SUMS"] = []byte(sums.String())
	for _, name := range slices.Sorted(maps.Keys(made)) {
		if err := os.WriteFile(filepath.Join(folder, name), made[name], 0o644); err != nil {
			return err
		}
	}
	fmt.Print(sums.String())
	return nil
}

// shells are those that there are completions for, with where an archive has them.
var shells = []struct{ name, file string }{
	{"bash", "completions/glassbrief.bash"}, {"fish", "completions/glassbrief.fish"}, {"powershell", "completions/glassbrief.ps1"}, {"zsh", "completions/_glassbrief"},
}

// sharedFiles gives what every archive holds beside the program.
func sharedFiles(man string) ([]file, error) {
	var all []file
	for _, name := range []string{"README.md", "lang/README.md", ".ci/CHANGELOG.md"} {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		to := path.Base(name)
		if name == "lang/README.md" {
			to = "LANGUAGE.md"
		}
		all = append(all, file{to, text, 0o644})
	}
	for _, shell := range shells {
		var script, faults bytes.Buffer
		if code := cmd.Main([]string{"completion", shell.name}, strings.NewReader(""), &script, &faults); code != 0 {
			return nil, fmt.Errorf("completion %s: %s", shell.name, faults.String())
		}
		all = append(all, file{shell.file, script.Bytes(), 0o644})
	}
	pages, err := filepath.Glob(filepath.Join(man, "*.1"))
	if err != nil || len(pages) == 0 {
		return nil, fmt.Errorf("%s has no pages of the manual: %w", man, err)
	}
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			return nil, err
		}
		all = append(all, file{"man/man1/" + filepath.Base(page), text, 0o644})
	}
	return all, nil
}

func zipOf(folder string, files []file, at time.Time) ([]byte, error) {
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range files {
		h := &zip.FileHeader{Name: folder + "/" + f.path, Method: zip.Deflate, Modified: at}
		h.SetMode(os.FileMode(f.mode))
		to, err := z.CreateHeader(h)
		if err != nil {
			return nil, err
		}
		if _, err := to.Write(f.text); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return out.Bytes(), err
}

// tarOf gives a compressed archive of files, with the folders that they lie in, below a prefix.
func tarOf(prefix string, files []file, at time.Time) ([]byte, error) {
	var out bytes.Buffer
	zipped, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	t := tar.NewWriter(zipped)
	entry := func(name string, kind byte, mode int64, text []byte) error {
		if err := t.WriteHeader(&tar.Header{
			Name: name, Typeflag: kind, Mode: mode, Size: int64(len(text)), ModTime: at, Uname: "root", Gname: "root", Format: tar.FormatGNU,
		}); err != nil {
			return err
		}
		_, err := t.Write(text)
		return err
	}
	seen := map[string]bool{}
	var folders func(name string) error
	folders = func(name string) error {
		if name == "." || name == "/" || seen[name] {
			return nil
		}
		seen[name] = true
		if err := folders(path.Dir(name)); err != nil {
			return err
		}
		return entry(prefix+name+"/", tar.TypeDir, 0o755, nil)
	}
	sorted := slices.Clone(files)
	slices.SortFunc(sorted, func(a, b file) int { return strings.Compare(a.path, b.path) })
	if err := entry(prefix, tar.TypeDir, 0o755, nil); err != nil {
		return nil, err
	}
	for _, f := range sorted {
		if err := folders(path.Dir(f.path)); err != nil {
			return nil, err
		}
		if err := entry(prefix+f.path, tar.TypeReg, f.mode, f.text); err != nil {
			return nil, err
		}
	}
	if err := t.Close(); err != nil {
		return nil, err
	}
	err = zipped.Close()
	return out.Bytes(), err
}

func gzipped(text []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err == nil {
		if _, err = w.Write(text); err == nil {
			err = w.Close()
		}
	}
	return out.Bytes(), err
}

// debianVersion gives a version as Debian writes it, of the first package made of it: what comes before a
// release sorts before it.
func debianVersion(version string) string {
	return strings.ReplaceAll(strings.TrimPrefix(version, "v"), "-", "~") + "-1"
}

const (
	maintainer = "The maintainers of glassbrief <maintainers@glassbrief.example.org>"
	copyright  = "Copyright 2025-2026 the maintainers of glassbrief\n\n" +
		"No licence has been granted yet: the owner has not chosen one. The libraries that are part of the\n" +
		"program have licences of their own; the list of materials of each release names them.\n"
	// The program is static so that it runs on any system of its kind.
	overrides = "# static so that it runs on any system\nglassbrief: statically-linked-binary [usr/bin/glassbrief]\n"
)

// debian gives a package: an archive of the kind "ar" with the format's version, what the package manager is told,
// and the files (Debian Policy Manual, and deb(5)).
func debian(version, arch string, program []byte, shared []file, at time.Time) ([]byte, error) {
	news, err := gzipped(fmt.Appendf(nil, "glassbrief (%s) unstable; urgency=medium\n\n  * See changelog.gz.\n\n -- %s  %s\n", version, maintainer, at.Format(time.RFC1123Z)))
	if err != nil {
		return nil, err
	}
	files := []file{
		{"usr/bin/glassbrief", program, 0o755},
		{"usr/share/doc/glassbrief/changelog.Debian.gz", news, 0o644},
		{"usr/share/doc/glassbrief/copyright", []byte(copyright), 0o644},
		{"usr/share/lintian/overrides/glassbrief", []byte(overrides), 0o644},
	}
	for _, f := range shared {
		to, packed := "", false
		switch name := path.Base(f.path); {
		case strings.HasPrefix(f.path, "man/"):
			to, packed = "usr/share/"+f.path+".gz", true
		case name == "CHANGELOG.md":
			to, packed = "usr/share/doc/glassbrief/changelog.gz", true
		case name == "README.md" || name == "LANGUAGE.md":
			to = "usr/share/doc/glassbrief/" + name
		case name == "glassbrief.bash":
			to = "usr/share/bash-completion/completions/glassbrief"
		case name == "glassbrief.fish":
			to = "usr/share/fish/vendor_completions.d/glassbrief.fish"
		case name == "_glassbrief":
			to = "usr/share/zsh/vendor-completions/_glassbrief"
		default: // for other systems
			continue
		}
		text := f.text
		if packed {
			if text, err = gzipped(text); err != nil {
				return nil, err
			}
		}
		files = append(files, file{to, text, f.mode})
	}
	slices.SortFunc(files, func(a, b file) int { return strings.Compare(a.path, b.path) })
	size := 0
	var sums strings.Builder
	for _, f := range files {
		size += len(f.text)
		fmt.Fprintf(&sums, "%x  %s\n", md5.Sum(f.text), f.path)
	}
	control := fmt.Sprintf("Package: glassbrief\nVersion: %s\nArchitecture: %s\nMaintainer: %s\nInstalled-Size: %d\n"+
		"Section: video\nPriority: optional\nDescription: choose which lenses to bring for a day on a stabiliser\n"+
		" Reads a short text about the shots of a day and a catalogue of lenses,\n"+
		" computes the optics of every lens in every shot, judges them by rules, and\n"+
		" says which few lenses to bring, how each shot is set up, and why.\n", version, arch, maintainer, (size+1023)/1024)
	about, err := tarOf("./", []file{{"control", []byte(control), 0o644}, {"md5sums", []byte(sums.String()), 0o644}}, at)
	if err != nil {
		return nil, err
	}
	data, err := tarOf("./", files, at)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.WriteString("!<arch>\n")
	for _, member := range []file{{"debian-binary", []byte("2.0\n"), 0}, {"control.tar.gz", about, 0}, {"data.tar.gz", data, 0}} {
		fmt.Fprintf(&out, "%-16s%-12d%-6d%-6d%-8s%-10d`\n", member.path, at.Unix(), 0, 0, "100644", len(member.text))
		out.Write(member.text)
		if len(member.text)%2 == 1 {
			out.WriteByte('\n')
		}
	}
	return out.Bytes(), nil
}

// materials lists what is in a program, in CycloneDX 1.6: every module that Go recorded there, and Go's own
// library. Its number is made from the program, so that it is the same for the same program.
func materials(info *buildinfo.BuildInfo, program []byte, at time.Time) ([]byte, error) {
	type component map[string]any
	library := func(name, version, sum string) component {
		c := component{"type": "library", "bom-ref": "pkg:golang/" + name + "@" + version, "name": name, "version": version, "purl": "pkg:golang/" + name + "@" + version}
		if sum != "" {
			c["properties"] = []component{{"name": "go:sum", "value": sum}}
		}
		return c
	}
	sum := sha256.Sum256(program)
	whole := library(info.Main.Path, info.Main.Version, "")
	whole["type"] = "application"
	whole["hashes"] = []component{{"alg": "SHA-256", "content": fmt.Sprintf("%x", sum)}}
	parts := []component{library("std", strings.TrimPrefix(info.GoVersion, "go"), "")}
	for _, module := range info.Deps {
		if module.Replace != nil {
			module = module.Replace
		}
		parts = append(parts, library(module.Path, module.Version, module.Sum))
	}
	refs := make([]any, len(parts))
	for i, part := range parts {
		refs[i] = part["bom-ref"]
	}
	text, err := json.MarshalIndent(map[string]any{
		"$schema": "http://cyclonedx.org/schema/bom-1.6.schema.json", "bomFormat": "CycloneDX", "specVersion": "1.6", "version": 1,
		"serialNumber": uuid(sum),
		"metadata":     component{"timestamp": at.Format(time.RFC3339), "component": whole},
		"components":   parts,
		"dependencies": []component{{"ref": whole["bom-ref"], "dependsOn": refs}},
	}, "", "  ")
	return append(text, '\n'), err
}

// uuid gives an identifier of version 8, whose bits are a sum's (RFC 9562).
func uuid(sum [32]byte) string {
	b := sum[:16]
	b[6], b[8] = b[6]&0x0f|0x80, b[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}
