package throwaway

import (
	"os"
	"os/user"
	"strconv"
	"syscall"
)

// quit ends the server at once, as a crash does.
var quit os.Signal = syscall.SIGQUIT

// account is whom the server runs as: PostgreSQL refuses to run as root.
func account() *syscall.Credential {
	if os.Geteuid() != 0 {
		return nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, err := strconv.ParseUint(u.Uid, 10, 32)
		if err != nil {
			continue
		}
		gid, err := strconv.ParseUint(u.Gid, 10, 32)
		if err != nil {
			continue
		}
		return &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}
	}
	return nil
}

// asServer runs a program as the server's user; it ends with the test.
func asServer() *syscall.SysProcAttr {
	return &syscall.SysProcAttr{Credential: account(), Pdeathsig: syscall.SIGQUIT}
}

// handOver gives files to the server's user.
func handOver(paths ...string) error {
	a := account()
	if a == nil {
		return nil
	}
	for _, p := range paths {
		if err := os.Chown(p, int(a.Uid), int(a.Gid)); err != nil {
			return err
		}
	}
	return nil
}
