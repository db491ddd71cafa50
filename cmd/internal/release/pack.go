package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"os"
	"time"
)

// file is one file of an archive.
type file struct {
	name string // with slashes
	mode os.FileMode
	data []byte
}

// pack makes a zip for Windows, a gzipped tar for the others. All times are
// those of day, so that the same files give the same bytes.
func pack(folder string, zipped bool, files []file, day time.Time) (name string, data []byte, err error) {
	var out bytes.Buffer
	if zipped {
		err = packZip(&out, folder, files, day)
		return folder + ".zip", out.Bytes(), err
	}
	err = packTar(&out, folder, files, day)
	return folder + ".tar.gz", out.Bytes(), err
}

func packZip(out *bytes.Buffer, folder string, files []file, day time.Time) error {
	z := zip.NewWriter(out)
	for _, f := range files {
		head := &zip.FileHeader{Name: folder + "/" + f.name, Method: zip.Deflate, Modified: day}
		head.SetMode(f.mode)
		w, err := z.CreateHeader(head)
		if err != nil {
			return err
		}
		if _, err := w.Write(f.data); err != nil {
			return err
		}
	}
	return z.Close()
}

func packTar(out *bytes.Buffer, folder string, files []file, day time.Time) error {
	g := gzip.NewWriter(out)
	t := tar.NewWriter(g)
	for _, f := range files {
		head := &tar.Header{Name: folder + "/" + f.name, Mode: int64(f.mode), Size: int64(len(f.data)), ModTime: day, Format: tar.FormatUSTAR}
		if err := t.WriteHeader(head); err != nil {
			return err
		}
		if _, err := t.Write(f.data); err != nil {
			return err
		}
	}
	return errors.Join(t.Close(), g.Close())
}
