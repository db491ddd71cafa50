package sqlite

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"golang.org/x/sys/unix"
)

// magicNames gives the type of a file system by the number that statfs
// reports (linux/magic.h and statfs(2); the last four from their own drivers).
var magicNames = map[uint32]string{
	unix.NFS_SUPER_MAGIC: "nfs", unix.CIFS_SUPER_MAGIC: "cifs", unix.SMB_SUPER_MAGIC: "smb", unix.SMB2_SUPER_MAGIC: "smb2",
	unix.V9FS_MAGIC: "9p", unix.AFS_FS_MAGIC: "afs", unix.AFS_SUPER_MAGIC: "afs", unix.CEPH_SUPER_MAGIC: "ceph",
	unix.CODA_SUPER_MAGIC: "coda", unix.NCP_SUPER_MAGIC: "ncpfs", unix.OCFS2_SUPER_MAGIC: "ocfs2", unix.FUSE_SUPER_MAGIC: "fuse",
	0x01161970: "gfs2", 0x0BD00BD0: "lustre", 0x19830326: "beegfs", 0x786f4256: "vboxsf",
}

// networkShare names the file system when path lies on a network share, else
// "". The file need not exist, its folder must.
func networkShare(path string) (string, error) {
	real, err := filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		real, err = filepath.EvalSymlinks(filepath.Dir(path))
	}
	if err != nil {
		return "", err
	}
	var st unix.Statfs_t
	if err := unix.Statfs(real, &st); err != nil {
		return "", &os.PathError{Op: "statfs", Path: real, Err: err}
	}
	name := magicNames[uint32(st.Type)]
	if name == "fuse" {
		// Only the mount table tells sshfs from a local disk in user space.
		if full, err := mountType(real); err == nil && full != "" {
			name = full
		}
	}
	if !isNetwork(name) {
		return "", nil
	}
	return name, nil
}

// mountType looks up the type of the file system that path lies on.
func mountType(path string) (string, error) {
	var st unix.Stat_t
	if err := unix.Stat(path, &st); err != nil {
		return "", err
	}
	f, err := os.Open("/proc/self/mountinfo")
	if err != nil {
		return "", err
	}
	defer f.Close()
	return findMount(f, unix.Major(st.Dev), unix.Minor(st.Dev))
}

// findMount reads lines like "36 35 98:0 /root /mnt rw - fuse.sshfs host opts".
func findMount(r io.Reader, major, minor uint32) (string, error) {
	device := fmt.Sprintf("%s:%s", strconv.Itoa(int(major)), strconv.Itoa(int(minor)))
	lines := bufio.NewScanner(r)
	for lines.Scan() {
		head, tail, ok := strings.Cut(lines.Text(), " - ")
		fields := strings.Fields(head)
		kind := strings.Fields(tail)
		if ok && len(fields) > 2 && fields[2] == device && len(kind) > 0 {
			return kind[0], nil
		}
	}
	return "", lines.Err()
}
