package cli

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"strings"

	"github.com/spf13/cobra"
	"rsc.io/qr"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/bench"
)

func init() { register(benchCmd) }

func benchCmd(a *app) *cobra.Command {
	port, lan := 8461, false
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "serve a page for the tablet next to the unit",
		Long: `Serves a page with the same answers as these commands: open a case, ask the driver, see what to do now and why, check off the teardown, enter readings, findings and photos, undo entries, close the case. Several tablets can work on one case; each sees what the others enter.

It answers on this machine only. With --lan it answers on the shop's network as well, to tablets that have scanned the code that is shown here. Type new and press Enter for another code; every tablet must then scan that one. What goes over the network is not encrypted: use it on a network that you trust. Ctrl-C ends it.`,
		Example: "slipcase bench\nslipcase bench --port 9000\nslipcase bench --lan",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return a.bench(port, lan) },
	}
	cmd.Flags().IntVar(&port, "port", port, "`number` of the port; 0 for any that is free")
	cmd.Flags().BoolVar(&lan, "lan", false, "answer on the shop's network too, to tablets that have scanned the code")
	return cmd
}

// bench serves the pages until an interrupt.
func (a *app) bench(port int, lan bool) error {
	if port < 0 || port > 65535 {
		return wrongUse("%d is not a port", port)
	}
	a.leaves.Store(true)
	at, hosts := "127.0.0.1", []string{"127.0.0.1", "localhost", "::1"}
	var gate *bench.Gate
	if lan {
		own, err := ownAddress()
		if err != nil {
			return answer.Fail(answer.Unavailable, "this machine is not on a network: "+err.Error(), "without --lan the page answers on this machine")
		}
		at, gate, hosts = own, bench.NewGate(), []string{own}
	}
	l, err := net.Listen("tcp", net.JoinHostPort(at, fmt.Sprint(port)))
	if err != nil {
		return answer.Fail(answer.Unavailable, "the page cannot be served: "+err.Error(), "another program may have the port; name another with --port").Because(err)
	}
	address := "http://" + l.Addr().String() + "/"
	s := bench.New(bench.Options{Desk: a.desk(), Gate: gate, Hosts: hosts, Log: a.log})
	if gate == nil {
		fmt.Fprintf(a.out, "The bench page: %s\nIt answers on this machine only. Ctrl-C ends it.\n", address)
	} else {
		a.showCode(address, gate.Token())
		go func() {
			for lines := bufio.NewScanner(a.in); lines.Scan(); {
				if strings.EqualFold(strings.TrimSpace(lines.Text()), "new") {
					a.showCode(address, gate.Rotate())
				}
			}
		}()
	}
	srv := &http.Server{}
	return s.Serve(a.ctx, srv, func() error { return srv.Serve(l) })
}

// showCode shows what a tablet is to scan.
func (a *app) showCode(address, token string) {
	link := address + "in/" + token
	if c, err := qr.Encode(link, qr.L); err == nil {
		fmt.Fprint(a.out, "\n"+squares(c))
	}
	fmt.Fprintf(a.out, "\nScan the code with the tablet, or open %s\nAnyone who has it can read and write every case. Type new and press Enter for another code; Ctrl-C ends it.\nFor a code on a job sheet that takes a tablet to its case: slipcase sheet --bench %s\n", link, strings.TrimSuffix(address, "/"))
}

// squares draws a code in half blocks: two rows of squares in each line, light
// ones drawn, with the margin that readers need. It reads on a dark terminal;
// on a light one most readers take it inverted.
func squares(c *qr.Code) string {
	const margin = 3
	light := func(x, y int) bool { return !c.Black(x, y) }
	var b strings.Builder
	for y := -margin; y < c.Size+margin; y += 2 {
		for x := -margin; x < c.Size+margin; x++ {
			switch up, down := light(x, y), light(x, y+1); {
			case up && down:
				b.WriteString("█")
			case up:
				b.WriteString("▀")
			case down:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// ownAddress is this machine's address in the shop's network: the first private
// one of an interface that is up.
func ownAddress() (string, error) {
	list, err := net.InterfaceAddrs()
	if err != nil {
		return "", err
	}
	for _, x := range list {
		if n, ok := x.(*net.IPNet); ok && n.IP.To4() != nil && n.IP.IsPrivate() && !n.IP.IsLoopback() {
			return n.IP.String(), nil
		}
	}
	return "", fmt.Errorf("no interface has a private address")
}
