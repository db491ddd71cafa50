// Package throwaway runs a PostgreSQL server for tests: on loopback, on a free
// port, with a data folder of its own that goes with it. Only tests import it.
package throwaway

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
)

// Password of the server's user. Tests look for it where it must not be.
const Password = "mainshaft/7@bolt"

const owner = "shop"

// Server is a running server.
type Server struct {
	folder, bin string
	port        int
	log         bytes.Buffer

	mu      sync.Mutex
	process *exec.Cmd
	ended   chan struct{}
}

// programs is the folder of the server's programs. Debian keeps them out of the
// path.
func programs() (string, error) {
	if p, err := exec.LookPath("initdb"); err == nil {
		return filepath.Dir(p), nil
	}
	found, err := filepath.Glob("/usr/lib/postgresql/*/bin/initdb")
	if err != nil || len(found) == 0 {
		return "", errors.New("these tests need PostgreSQL's server, 13 or newer, and found no initdb: on Debian apt-get install postgresql; elsewhere put its programs on the path")
	}
	slices.Sort(found)
	return filepath.Dir(found[len(found)-1]), nil
}

// Start makes a data folder and starts a server in it.
func Start() (*Server, error) {
	bin, err := programs()
	if err != nil {
		return nil, err
	}
	folder, err := os.MkdirTemp("", "casebook-server-")
	if err != nil {
		return nil, err
	}
	s := &Server{folder: folder, bin: bin}
	if err := s.start(); err != nil {
		s.Stop()
		return nil, err
	}
	return s, nil
}

func (s *Server) start() error {
	secret := filepath.Join(s.folder, "password")
	if err := os.WriteFile(secret, []byte(Password+"\n"), 0o600); err != nil {
		return err
	}
	if err := handOver(s.folder, secret); err != nil {
		return err
	}
	init := exec.Command(filepath.Join(s.bin, "initdb"), "--pgdata", s.data(), "--username", owner, "--pwfile", secret,
		"--auth", "scram-sha-256", "--encoding", "UTF8", "--locale", "C", "--no-sync")
	init.Dir, init.SysProcAttr = s.folder, asServer()
	if out, err := init.CombinedOutput(); err != nil {
		return fmt.Errorf("initdb: %w\n%s", err, out)
	}
	var err error
	for range 3 { // somebody else may take the port
		var l net.Listener
		if l, err = net.Listen("tcp", "127.0.0.1:0"); err != nil {
			return err
		}
		s.port = l.Addr().(*net.TCPAddr).Port
		l.Close()
		if err = s.run(); err == nil {
			return nil
		}
	}
	return err
}

func (s *Server) data() string { return filepath.Join(s.folder, "data") }

// run starts the process and waits until it answers. The system is trusted to
// keep what was written, only the server dies: no fsync.
func (s *Server) run() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.log.Reset()
	c := exec.Command(filepath.Join(s.bin, "postgres"), "-D", s.data(), "-F", "-h", "127.0.0.1", "-p", fmt.Sprint(s.port),
		"-c", "unix_socket_directories=", "-c", "shared_buffers=16MB", "-c", "max_connections=60")
	c.Dir, c.SysProcAttr = s.folder, asServer()
	c.Stderr = &s.log
	if err := c.Start(); err != nil {
		return err
	}
	ended := make(chan struct{})
	go func() { c.Wait(); close(ended) }()
	s.process, s.ended = c, ended
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	for {
		conn, err := pgx.Connect(ctx, s.URL("postgres"))
		if err == nil {
			return conn.Close(ctx)
		}
		select {
		case <-ended:
			return fmt.Errorf("the server ended: %s", s.log.String())
		case <-ctx.Done():
			return fmt.Errorf("the server does not answer: %w", err)
		case <-time.After(20 * time.Millisecond):
		}
	}
}

// end stops the process: at once, as after a crash, or in order.
func (s *Server) end(crash bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.process == nil {
		return
	}
	signal := os.Interrupt
	if crash {
		signal = quit
	}
	s.process.Process.Signal(signal)
	<-s.ended
	s.process = nil
}

// Restart ends the server, at once or in order, and starts it again.
func (s *Server) Restart(crash bool) error {
	s.end(crash)
	return s.run()
}

// Stop ends the server and removes its folder.
func (s *Server) Stop() error {
	s.end(true)
	return os.RemoveAll(s.folder)
}

// Address is host and port.
func (s *Server) Address() string { return fmt.Sprintf("127.0.0.1:%d", s.port) }

// URL of a database, by way of the server's own address.
func (s *Server) URL(database string) string { return URL(s.Address(), database) }

// URL of a database by way of another address, that of a proxy.
func URL(address, database string) string {
	u := url.URL{Scheme: "postgres", User: url.UserPassword(owner, Password), Host: address, Path: "/" + database, RawQuery: "sslmode=disable"}
	return u.String()
}

var databases atomic.Int64

// Database makes an empty database and gives its name.
func (s *Server) Database(t testing.TB) string {
	t.Helper()
	name, err := s.NewDatabase()
	if err != nil {
		t.Fatal(err)
	}
	return name
}

// NewDatabase is Database for who has no test at hand.
func (s *Server) NewDatabase() (string, error) {
	name := fmt.Sprintf("shop%d", databases.Add(1))
	return name, s.exec("postgres", "CREATE DATABASE "+name)
}

// Exec runs SQL in a database.
func (s *Server) Exec(t testing.TB, database, sql string) {
	t.Helper()
	if err := s.exec(database, sql); err != nil {
		t.Fatal(err)
	}
}

func (s *Server) exec(database, sql string) error {
	ctx := context.Background()
	conn, err := pgx.Connect(ctx, s.URL(database))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	_, err = conn.Exec(ctx, sql)
	return err
}

var shared struct {
	once sync.Once
	s    *Server
	err  error
}

// Shared is one server for all tests of a program, which ends it with Done.
func Shared(t testing.TB) *Server {
	t.Helper()
	s, err := Get()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Get is Shared for who has no test at hand.
func Get() (*Server, error) {
	shared.once.Do(func() { shared.s, shared.err = Start() })
	return shared.s, shared.err
}

// Done ends the shared server, if there is one.
func Done() {
	if shared.s != nil {
		shared.s.Stop()
	}
}
