package sqlite

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

	"slipcase/engine"
)

func init() {
	roles["full disk"] = fullDisk
	roles["size limit"] = sizeLimit
	roles["read-only disk"] = readOnlyDisk
}

// ownMounts lets a child mount what it likes without anybody seeing it: as
// root, or as root of a user name space of its own.
func ownMounts(c *exec.Cmd) {
	c.SysProcAttr = &syscall.SysProcAttr{Cloneflags: unix.CLONE_NEWNS}
	if os.Geteuid() != 0 {
		c.SysProcAttr.Cloneflags |= unix.CLONE_NEWUSER
		c.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{HostID: os.Getuid(), Size: 1}}
		c.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{HostID: os.Getgid(), Size: 1}}
	}
}

func mountSmall(dir string, size string) error {
	if err := unix.Mount("", "/", "", unix.MS_REC|unix.MS_PRIVATE, ""); err != nil {
		return fmt.Errorf("making mounts private: %w", err)
	}
	return unix.Mount("small", dir, "tmpfs", 0, "size="+size)
}

func runChild(t *testing.T, role string, mounts bool) {
	t.Helper()
	c := child(t, role, filepath.Join(t.TempDir(), "cases.db"), "x")
	if mounts {
		ownMounts(c)
	}
	if err := c.Start(); errors.Is(err, syscall.EPERM) && os.Geteuid() != 0 {
		t.Skip("this system lets nobody but root mount anything")
	} else if err != nil {
		t.Fatal(err)
	}
	if err := c.Wait(); err != nil {
		t.Error(err)
	}
}

func TestFullDisk(t *testing.T)     { runChild(t, "full disk", true) }
func TestSizeLimit(t *testing.T)    { runChild(t, "size limit", false) }
func TestReadOnlyDisk(t *testing.T) { runChild(t, "read-only disk", true) }

// fillUp writes to a new case until the disk is full, and wants that told. It
// gives what was acknowledged.
func fillUp(b *Book) (id string, notes []string, err error) {
	id, err = b.OpenCase(bg, engine.Opening{Unit: "northfork-4"})
	if err != nil {
		return "", nil, err
	}
	for i := range 2000 {
		note := fmt.Sprint(i, strings.Repeat(" word", 1000))
		_, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: note}})
		if err == nil {
			notes = append(notes, note)
			continue
		}
		if !errors.Is(err, engine.ErrFull) || !strings.Contains(err.Error(), "free some space") {
			return "", nil, fmt.Errorf("full disk is told as: %w", err)
		}
		return id, notes, nil
	}
	return "", nil, errors.New("the disk never got full")
}

// holds wants exactly these notes and a sound file.
func holds(b *Book, id string, notes []string) error {
	rec, err := b.Get(bg, id)
	if err != nil {
		return err
	}
	if len(rec.Entries) != len(notes) {
		return fmt.Errorf("%d entries, acknowledged were %d", len(rec.Entries), len(notes))
	}
	for i, e := range rec.Entries {
		if e.Body != (engine.Note{Text: notes[i]}) {
			return fmt.Errorf("entry %d is not the one written", e.Seq)
		}
	}
	return b.Check(bg)
}

func fullDisk(path, _ string) error {
	dir := filepath.Dir(path)
	if err := mountSmall(dir, "1m"); err != nil {
		return err
	}
	b, err := Open(bg, path, Options{Clock: steady})
	if err != nil {
		return err
	}
	id, notes, err := fillUp(b)
	if err != nil {
		return err
	}
	if err := holds(b, id, notes); err != nil {
		return fmt.Errorf("on the full disk: %w", err)
	}
	// A backup that finds no room leaves no file behind.
	if _, err := b.Backup(bg); !errors.Is(err, engine.ErrFull) {
		return fmt.Errorf("backup on a full disk: %w", err)
	}
	left, err := filepath.Glob(path + "*.partial*")
	if err != nil || len(left) > 0 {
		return fmt.Errorf("left %v, %w", left, err)
	}
	// Space is made, and work goes on.
	if err := unix.Mount("", dir, "", unix.MS_REMOUNT, "size=8m"); err != nil {
		return err
	}
	if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: "again"}}); err != nil {
		return fmt.Errorf("after making space: %w", err)
	}
	notes = append(notes, "again")
	if err := b.Close(); err != nil {
		return err
	}
	if b, err = Open(bg, path, Options{Check: true}); err != nil {
		return err
	}
	defer b.Close()
	return holds(b, id, notes)
}

func sizeLimit(path, _ string) error {
	signal.Ignore(syscall.SIGXFSZ)
	b, err := Open(bg, path, Options{Clock: steady})
	if err != nil {
		return err
	}
	var old unix.Rlimit
	if err := unix.Getrlimit(unix.RLIMIT_FSIZE, &old); err != nil {
		return err
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: 400 << 10, Max: old.Max}); err != nil {
		return err
	}
	id, notes, err := fillUp(b)
	if err != nil {
		return err
	}
	if err := holds(b, id, notes); err != nil {
		return fmt.Errorf("under the limit: %w", err)
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &old); err != nil {
		return err
	}
	if _, err := b.Append(bg, id, engine.Entry{Body: engine.Note{Text: "again"}}); err != nil {
		return fmt.Errorf("after the limit: %w", err)
	}
	defer b.Close()
	return holds(b, id, append(notes, "again"))
}

func readOnlyDisk(path, _ string) error {
	dir := filepath.Dir(path)
	if err := mountSmall(dir, "4m"); err != nil {
		return err
	}
	b, err := Open(bg, path, Options{Clock: steady})
	if err != nil {
		return err
	}
	id, err := b.OpenCase(bg, engine.Opening{Unit: "northfork-4"})
	if err != nil {
		return err
	}
	if err := b.Close(); err != nil {
		return err
	}
	if err := unix.Mount("", dir, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""); err != nil {
		return err
	}
	// The casebook that is there, and one that would have to be made.
	for _, p := range []string{path, filepath.Join(dir, "new.db")} {
		b, err := Open(bg, p, Options{})
		if err == nil {
			b.Close()
		}
		if !errors.Is(err, engine.ErrReadOnly) || !strings.Contains(err.Error(), "must be writable") {
			return fmt.Errorf("%s on a read-only disk: %w", filepath.Base(p), err)
		}
	}
	if err := unix.Mount("", dir, "", unix.MS_REMOUNT, ""); err != nil {
		return err
	}
	if b, err = Open(bg, path, Options{Check: true}); err != nil {
		return err
	}
	defer b.Close()
	return holds(b, id, nil)
}

// A folder that the user may not write in; root may everywhere.
func TestForbiddenFolder(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Log("root may write in every folder; the read-only disk stands for it")
		return
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	if _, err := Open(bg, filepath.Join(dir, "cases.db"), Options{}); !errors.Is(err, engine.ErrReadOnly) {
		t.Errorf("error %v, want read-only", err)
	}
}

func TestFindMount(t *testing.T) {
	// Lines in the form of proc(5), invented.
	const table = `22 1 254:0 / / rw,relatime shared:1 - ext4 /dev/vda rw
40 22 0:35 / /mnt/bay rw,nosuid - fuse.sshfs bay:/cases rw
41 22 0:36 / /mnt/stick rw shared:2 master:1 - fuseblk /dev/sdb1 rw
`
	for minor, want := range map[uint32]string{35: "fuse.sshfs", 36: "fuseblk", 37: ""} {
		if got, err := findMount(strings.NewReader(table), 0, minor); err != nil || got != want {
			t.Errorf("0:%d is %q, %v; want %q", minor, got, err, want)
		}
	}
	if share, err := networkShare(t.TempDir()); err != nil || share != "" {
		t.Errorf("the folder of this test is on %q, %v", share, err)
	}
}
