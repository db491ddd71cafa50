package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
)

// module is a module that is linked into the program.
type module struct {
	Path, Version, Dir string
	Main               bool
}

// linked lists the modules that are linked for a target, by path.
func linked(t target) ([]module, error) {
	cmd := exec.Command("go", "list", "-deps", "-json=Module", program)
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+t.os, "GOARCH="+t.arch)
	var errs bytes.Buffer
	cmd.Stderr = &errs
	text, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w: %s", err, errs.String())
	}
	seen := map[string]module{}
	for in := json.NewDecoder(bytes.NewReader(text)); ; {
		var p struct{ Module *module }
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, err
		}
		if p.Module != nil && !p.Module.Main {
			seen[p.Module.Path] = *p.Module
		}
	}
	var out []module
	for _, m := range seen {
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b module) int { return strings.Compare(a.Path, b.Path) })
	return out, nil
}

// licenseFile matches the files that a license asks to be handed on.
var licenseFile = regexp.MustCompile(`(?i)^(licen[sc]e|copying|notice|patents|copyright|unlicense)`)

// thirdParty is the text of the licenses and notices of everything linked for
// a target, Go's own library first. A module without a license is an error.
func thirdParty(t target) ([]byte, error) {
	modules, err := linked(t)
	if err != nil {
		return nil, err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	modules = append([]module{{Path: "the Go standard library", Version: runtime.Version(), Dir: strings.TrimSpace(string(root))}}, modules...)
	var out bytes.Buffer
	fmt.Fprintf(&out, "slipcase contains the libraries below, each under its own license.\nThe source of each is at the address that is its name.\n")
	for _, m := range modules {
		files, err := m.licenses()
		if err != nil {
			return nil, err
		}
		for _, f := range files {
			fmt.Fprintf(&out, "\n%[1]s\n%[2]s %[3]s: %[4]s\n%[1]s\n\n%[5]s\n", strings.Repeat("=", 78), m.Path, m.Version, f.name, bytes.TrimSpace(f.data))
		}
	}
	return out.Bytes(), nil
}

// licenses are the license files at the top of a module; none is an error.
func (m module) licenses() ([]file, error) {
	list, err := os.ReadDir(m.Dir)
	if err != nil {
		return nil, err
	}
	var out []file
	for _, d := range list {
		if !d.Type().IsRegular() || !licenseFile.MatchString(d.Name()) || strings.HasSuffix(strings.ToUpper(d.Name()), "-LOGO") {
			continue
		}
		data, err := os.ReadFile(filepath.Join(m.Dir, d.Name()))
		if err != nil {
			return nil, err
		}
		out = append(out, file{d.Name(), 0o644, bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("module %s %s has no license file: do not link it", m.Path, m.Version)
	}
	return out, nil
}
