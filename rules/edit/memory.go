package edit

import (
	"bytes"
	"io"
	"io/fs"
	"path"
	"strings"
	"time"
)

// memory is a folder of rule files that is not on the disk yet.
type memory map[string][]byte

// Open implements fs.FS.
func (m memory) Open(name string) (fs.File, error) {
	if src, ok := m[name]; ok {
		return &memoryFile{Reader: bytes.NewReader(src), info: memoryInfo{path.Base(name), int64(len(src)), 0o644}}, nil
	}
	var list []fs.DirEntry
	for _, p := range names(m) {
		if path.Dir(p) == name {
			list = append(list, fs.FileInfoToDirEntry(memoryInfo{path.Base(p), int64(len(m[p])), 0o644}))
		}
	}
	if list == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memoryFile{Reader: strings.NewReader(""), info: memoryInfo{path.Base(name), 0, fs.ModeDir | 0o755}, list: list}, nil
}

type memoryFile struct {
	io.Reader
	info memoryInfo
	list []fs.DirEntry
}

func (f *memoryFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *memoryFile) Close() error               { return nil }

// ReadDir implements fs.ReadDirFile, for whole folders.
func (f *memoryFile) ReadDir(int) ([]fs.DirEntry, error) { return f.list, nil }

type memoryInfo struct {
	name string
	size int64
	mode fs.FileMode
}

func (i memoryInfo) Name() string       { return i.name }
func (i memoryInfo) Size() int64        { return i.size }
func (i memoryInfo) Mode() fs.FileMode  { return i.mode }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return i.mode.IsDir() }
func (i memoryInfo) Sys() any           { return nil }
