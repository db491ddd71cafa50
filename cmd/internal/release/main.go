package main

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// target is a system and a processor.
type target struct{ os, arch string }

var targets = []target{
	{"linux", "amd64"}, {"linux", "arm64"}, {"windows", "amd64"}, {"windows", "arm64"}, {"darwin", "amd64"}, {"darwin", "arm64"},
}

// program is the package that is built.
const program = "./cmd/slipcase"

func main() {
	log.SetFlags(0)
	log.SetPrefix("release: ")
	version := flag.String("version", "", "`version` that the program shows, such as 1.0.0")
	out := flag.String("out", "", "`folder` to write to; made if need be")
	only := flag.String("only", "", "a single `target`, such as linux/amd64")
	date := flag.String("date", "2000-01-01", "`day` that files and man pages bear; give that of the commit")
	flag.Parse()
	if *version == "" || *out == "" || flag.NArg() > 0 {
		log.Fatal("give -version and -out; see -help")
	}
	day, err := time.Parse(time.DateOnly, *date)
	if err != nil {
		log.Fatalf("-date %s is not a day like 2026-01-31", *date)
	}
	if err := build(*version, *out, *only, day); err != nil {
		log.Fatal(err)
	}
}

// build writes an archive for each target and SHA256SUMS into a folder.
func build(version, out, only string, day time.Time) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	common, err := sharedFiles(day)
	if err != nil {
		return err
	}
	var sums []string
	for _, t := range targets {
		name := t.os + "/" + t.arch
		if only != "" && only != name {
			continue
		}
		files := slices.Clone(common)
		notices, err := thirdParty(t)
		if err != nil {
			return err
		}
		exe, err := compile(t, version)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		base := "slipcase"
		if t.os == "windows" {
			base += ".exe"
		}
		files = append(files, file{"THIRD-PARTY-NOTICES", 0o644, notices}, file{base, 0o755, exe})
		archive, data, err := pack(fmt.Sprintf("slipcase-%s-%s-%s", version, t.os, t.arch), t.os == "windows", files, day)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(out, archive), data, 0o644); err != nil {
			return err
		}
		sums = append(sums, fmt.Sprintf("%x  %s\n", sha256.Sum256(data), archive))
		log.Printf("%s, %d bytes", archive, len(data))
	}
	if len(sums) == 0 {
		return fmt.Errorf("there is no target %q", only)
	}
	return os.WriteFile(filepath.Join(out, "SHA256SUMS"), []byte(strings.Join(sums, "")), 0o644)
}

// compile builds the program for a target, static and without a trace of the
// machine that built it.
func compile(t target, version string) ([]byte, error) {
	dir, err := os.MkdirTemp("", "release")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	exe := filepath.Join(dir, "slipcase")
	// Without the stamp of the version control: a build from the unpacked
	// sources then gives the same bytes.
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false",
		"-ldflags=-s -w -buildid= -X slipcase/cmd/internal/desk.release="+version, "-o", exe, program)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+t.os, "GOARCH="+t.arch, "GOFLAGS=", "GOAMD64=v1", "GOARM64=v8.0")
	if text, err := cmd.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%w: %s", err, bytes.TrimSpace(text))
	}
	return os.ReadFile(exe)
}

// sharedFiles are the files that every archive has.
func sharedFiles(day time.Time) ([]file, error) {
	var out []file
	for _, name := range []string{"README.md", "LICENSE", "NOTICE"} {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("%w: run this at the top of the sources", err)
		}
		out = append(out, file{name, 0o644, data})
	}
	dir, err := os.MkdirTemp("", "release")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := writeManual(dir, day); err != nil {
		return nil, err
	}
	return appendFolder(out, dir)
}

// appendFolder adds the files of a folder, by name.
func appendFolder(out []file, dir string) ([]file, error) {
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		data, err := os.ReadFile(path)
		out = append(out, file{filepath.ToSlash(name), 0o644, data})
		return err
	})
	return out, err
}
