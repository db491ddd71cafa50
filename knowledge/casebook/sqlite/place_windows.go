package sqlite

import (
	"path/filepath"

	"golang.org/x/sys/windows"
)

// networkShare says how path lies on a network share, else "".
func networkShare(path string) (string, error) {
	if real, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil && isUNC(real) {
		path = real
	}
	if isUNC(path) {
		return "a server's folder", nil
	}
	root, err := windows.UTF16PtrFromString(filepath.VolumeName(path) + `\`)
	if err != nil {
		return "", err
	}
	if windows.GetDriveType(root) == windows.DRIVE_REMOTE {
		return "a network drive", nil
	}
	return "", nil
}
