package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"
)

// Everything that is linked, for every target, comes with its license.
func TestNoticesAreComplete(t *testing.T) {
	t.Chdir("../../..")
	for _, x := range targets {
		text, err := thirdParty(x)
		if err != nil {
			t.Fatal(err)
		}
		modules, err := linked(x)
		if err != nil {
			t.Fatal(err)
		}
		if len(modules) < 20 {
			t.Errorf("%v: only %d modules", x, len(modules))
		}
		for _, m := range modules {
			if !bytes.Contains(text, []byte(m.Path+" "+m.Version+": ")) {
				t.Errorf("%v: %s is missing", x, m.Path)
			}
		}
		for _, want := range []string{"Mozilla Public License", "Redistribution and use in source and binary forms", "Apache License", "Permission is hereby granted", "the Go standard library"} {
			if !bytes.Contains(text, []byte(want)) {
				t.Errorf("%v: no %q", x, want)
			}
		}
	}
}

// A module without a license stops the release, by name.
func TestModuleWithoutLicense(t *testing.T) {
	m := module{Path: "example.org/bare", Version: "v1.0.0", Dir: t.TempDir()}
	if _, err := m.licenses(); err == nil || !strings.Contains(err.Error(), "example.org/bare v1.0.0") {
		t.Errorf("%v", err)
	}
}

// The same files and day give the same archive; every file is in it.
func TestPackIsReproducible(t *testing.T) {
	t.Chdir("../../..")
	day := time.Date(2026, 1, 31, 0, 0, 0, 0, time.UTC)
	files, err := sharedFiles(day)
	if err != nil {
		t.Fatal(err)
	}
	again, err := sharedFiles(day)
	if err != nil {
		t.Fatal(err)
	}
	for _, zipped := range []bool{false, true} {
		_, a, err := pack("x", zipped, files, day)
		if err != nil {
			t.Fatal(err)
		}
		_, b, err := pack("x", zipped, again, day)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a, b) {
			t.Errorf("zip %v: two archives of the same differ", zipped)
		}
	}
	names := map[string]bool{}
	for _, f := range files {
		names[f.name] = true
		if dir, err := os.Getwd(); err == nil && bytes.Contains(f.data, []byte(dir)) {
			t.Errorf("%s names a folder of this machine", f.name)
		}
	}
	for _, want := range []string{"README.md", "LICENSE", "man/slipcase.1", "man/slipcase-suspects.1", "man/slipcase-cases-show.1", "completions/slipcase.bash", "completions/slipcase.zsh", "completions/slipcase.fish", "completions/slipcase.ps1"} {
		if !names[want] {
			t.Errorf("no %s", want)
		}
	}
	for _, f := range files {
		if f.name == "man/slipcase-suspects.1" && (!strings.Contains(string(f.data), "2026") || !strings.Contains(string(f.data), "slipcase suspects --demo slip-one-gear")) {
			t.Errorf("%s lacks its day or its example:\n%s", f.name, f.data)
		}
	}
}
