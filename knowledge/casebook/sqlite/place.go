package sqlite

import "strings"

// networkTypes are file systems on which locks between computers cannot be
// trusted, by the name that the system gives them.
var networkTypes = map[string]bool{
	"nfs": true, "nfs4": true, "cifs": true, "smb": true, "smb2": true, "smb3": true, "smbfs": true,
	"9p": true, "afs": true, "afpfs": true, "ceph": true, "coda": true, "davfs": true, "webdav": true,
	"ftp": true, "gfs2": true, "gpfs": true, "glusterfs": true, "lustre": true, "ncpfs": true, "ocfs2": true,
	"beegfs": true, "vboxsf": true, "vmhgfs": true, "prl_fs": true,
}

// localFuse are the file systems in user space that are known to keep their
// data on a disk of this computer.
var localFuse = map[string]bool{
	"fuseblk": true, "fuse.ntfs-3g": true, "fuse.exfat": true, "fuse.ext4": true, "fuse.fuse-overlayfs": true,
	"fuse.gocryptfs": true, "fuse.encfs": true, "fuse.bindfs": true, "fuse.mergerfs": true,
}

// isNetwork judges a file system by its type's name. One in user space that is
// not known to be local is not trusted: most carry data over a network.
func isNetwork(name string) bool {
	name = strings.ToLower(name)
	if localFuse[name] {
		return false
	}
	return networkTypes[name] || strings.HasPrefix(name, "fuse") || strings.HasPrefix(name, "osxfuse") || strings.HasPrefix(name, "macfuse")
}

// isUNC tells a Windows path that names a server: \\server\share, also in its
// long form \\?\UNC\server\share. \\?\C:\ and \\.\ name this computer. Only the
// program for Windows calls it; it stands here so that its test runs everywhere.
func isUNC(path string) bool {
	p := strings.ReplaceAll(path, "/", `\`)
	if !strings.HasPrefix(p, `\\`) {
		return false
	}
	rest := p[2:]
	if strings.HasPrefix(rest, `?\`) || strings.HasPrefix(rest, `.\`) {
		return len(rest) >= 6 && strings.EqualFold(rest[2:6], `UNC\`)
	}
	return true
}
