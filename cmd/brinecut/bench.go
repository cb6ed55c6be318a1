package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	network "net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"brinecut/cmd/brinecut/internal/ledger"
	"brinecut/cmd/brinecut/internal/page"
	"brinecut/cmd/brinecut/internal/paper"
	"brinecut/cmd/brinecut/internal/show"
	"brinecut/sorting"
)

// benchAddress is where the page is found unless it is told otherwise: this machine alone. A fixed port
// lets a phone find the page again after a restart, with what it still has to send.
const benchAddress = "127.0.0.1:7420"

// benchEnds is how long forms that are under way may take to end; common practice, no source.
const benchEnds = 10 * time.Second

func (a *app) bench() *cobra.Command {
	var listen string
	c := &cobra.Command{
		Use:   "bench BIN.toml",
		Short: "A page for the phone at the bench: the next test, big buttons, recorded at once",
		Long: `Serve a page that shows the next test and records what is tapped into the bin file. It answers this machine
alone unless --listen names another address; on a network each phone needs a one-time key, shown here as a
code to scan. The connection is not encrypted: use it on a network of your own. With --units us bare numbers are
ounces and °F. Ends with Ctrl-C.`,
		Example: `  brinecut bench bin.toml
  brinecut bench bin.toml --listen 192.168.1.20:7420
  brinecut bench bin.toml --listen :7420`,
		Args:              args(1, 1),
		RunE:              func(c *cobra.Command, given []string) error { return a.serveBench(c, given[0], listen) },
		ValidArgsFunction: completeBin,
	}
	c.Flags().StringVar(&listen, "listen", benchAddress, "address and port to answer at; :7420 is every address of this machine")
	return c
}

func (a *app) serveBench(c *cobra.Command, path, listen string) error {
	if path == "-" {
		return wrongUse("standard input cannot be added to", "name the bin file")
	}
	if _, _, err := a.open(path); err != nil {
		return err
	}
	l, err := benchListener(listen, c.Flags().Changed("listen"))
	if err != nil {
		return err
	}
	place, err := benchPlace(listen, l.Addr())
	if err != nil {
		return errors.Join(err, l.Close())
	}
	told := &benchTold{app: a, place: place}
	p := page.Bench(benchBin(path), page.BenchOptions{Hosts: place.hosts, Keyed: place.keyed, Key: told.key,
		Units: a.units.show(), Names: namesIn})
	if !place.keyed {
		told.key("", "")
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	return a.serveUntil(ctx, p.Server(), l)
}

// serveUntil answers until the context ends, then lets what is under way finish.
func (a *app) serveUntil(ctx context.Context, s *http.Server, l network.Listener) error {
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(sealed{l}) }()
	select {
	case err := <-ended:
		return cannot("the page stopped: "+err.Error(), "everything that was acknowledged is in the file")
	case <-ctx.Done():
	}
	patience, cancel := context.WithTimeout(context.Background(), benchEnds)
	defer cancel()
	if err := s.Shutdown(patience); err != nil {
		return cannot("the page was stopped with forms still under way: "+err.Error(), "everything that was acknowledged is in the file")
	}
	a.say("note", "the page has stopped; everything that was acknowledged is in the file")
	return nil
}

// benchListener opens the address. Where the usual one is taken and none was asked for, any free port
// of this machine will do.
func benchListener(address string, asked bool) (network.Listener, error) {
	l, err := network.Listen("tcp", address)
	if err != nil && !asked {
		l, err = network.Listen("tcp", "127.0.0.1:0")
	}
	if err != nil {
		return nil, cannot("could not listen at "+quote(address)+": "+err.Error(), "name a free address and port of this machine, as --listen "+benchAddress)
	}
	return l, nil
}

// benchSite is where the page is found.
type benchSite struct {
	keyed bool     // others than this machine can reach it
	hosts []string // names it answers to
	urls  []string
}

// benchPlace works out the names and addresses that lead to a listener.
func benchPlace(asked string, at network.Addr) (benchSite, error) {
	tcp, ok := at.(*network.TCPAddr)
	if !ok {
		return benchSite{}, cannot("this is no address of a network: "+at.String(), "")
	}
	url := func(host string) string {
		return fmt.Sprintf("http://%s/", network.JoinHostPort(host, fmt.Sprint(tcp.Port)))
	}
	if tcp.IP.IsLoopback() {
		return benchSite{hosts: []string{tcp.IP.String()}, urls: []string{url(tcp.IP.String())}}, nil
	}
	s := benchSite{keyed: true}
	if host, _, err := network.SplitHostPort(asked); err == nil && host != "" && network.ParseIP(host) == nil {
		s.hosts = append(s.hosts, host)
	}
	if !tcp.IP.IsUnspecified() {
		s.hosts = append(s.hosts, tcp.IP.String())
		s.urls = []string{url(tcp.IP.String())}
		return s, nil
	}
	all, err := network.InterfaceAddrs()
	if err != nil {
		return s, cannot("could not find the addresses of this machine: "+err.Error(), "name one behind --listen")
	}
	for _, x := range all {
		if n, ok := x.(*network.IPNet); ok && !n.IP.IsLoopback() && !n.IP.IsLinkLocalUnicast() {
			s.hosts = append(s.hosts, n.IP.String())
			s.urls = append(s.urls, url(n.IP.String()))
		}
	}
	s.urls = append(s.urls, url("127.0.0.1"))
	return s, nil
}

// benchBin gives the page its bin file, and nothing else of the disk.
func benchBin(path string) page.BenchBin {
	whole, err := filepath.Abs(path)
	if err != nil {
		whole = path
	}
	return page.BenchBin{
		Name: filepath.Base(path), Path: whole,
		Stamp: func() (string, error) {
			i, err := os.Stat(path)
			if err != nil {
				return "", err
			}
			return fmt.Sprint(i.Size(), " ", i.ModTime().UnixNano()), nil
		},
		Read: func() ([]byte, error) { return ledger.Read(path) },
		Parse: func(src []byte) (*sorting.Bin, []sorting.Warning, error) {
			return parse(path, filepath.Dir(path), src)
		},
		Append: func(record func([]byte) ([]byte, error)) error { return ledger.Append(path, record) },
	}
}

// benchTold says where the page is, with the key where there is one.
type benchTold struct {
	app   *app
	place benchSite
}

// benchWire is the wire form of where the page is: one line at the start, and one for each new key.
type benchWire struct {
	URLs  []string `json:"urls"` // with the key in them
	Keyed bool     `json:"keyed"`
	Key   *string  `json:"key"`
	From  *string  `json:"from"` // address of the phone that used the last key
}

func (t *benchTold) key(key, from string) {
	w := benchWire{Keyed: t.place.keyed}
	for _, u := range t.place.urls {
		if key != "" {
			u += "?key=" + key
		}
		w.URLs = append(w.URLs, u)
	}
	if key != "" {
		w.Key = &key
	}
	if from != "" {
		w.From = &from
	}
	if t.app.json {
		_ = show.JSON(t.app.out, w) // whoever read it is gone; the page goes on
		return
	}
	t.text(w)
}

func (t *benchTold) text(w benchWire) {
	out := t.app.out
	switch {
	case w.From != nil:
		fmt.Fprintf(out, "\na phone at %s came in. For one more phone:\n", *w.From)
	case w.Keyed:
		fmt.Fprintf(out, "the bench page. Each key lets one phone in; the connection is not encrypted.\n")
	default:
		fmt.Fprintf(out, "the bench page, for this machine alone; from a phone: --listen and an address of this machine\n")
	}
	for _, u := range w.URLs {
		fmt.Fprintf(out, "  %s\n", u)
	}
	if w.Key != nil {
		terminalCode(out, w.URLs[0])
	}
	if w.From == nil {
		fmt.Fprintf(out, "what is tapped there is recorded at once. Ctrl-C ends it.\n")
	}
}

// terminalCode draws a QR code with half blocks: two rows of it a line. On a terminal it is drawn black
// on white; elsewhere light squares are the ones that are inked, as a dark screen shows them.
func terminalCode(out io.Writer, text string) {
	code, err := paper.Squares(text)
	if err != nil {
		return // the address above it can be typed
	}
	before, after := "", ""
	if onTerminal(out) {
		before, after = "\x1b[97;40m", "\x1b[0m"
	}
	light := func(y, x int) bool { return y >= len(code) || !code[y][x] }
	for y := 0; y < len(code); y += 2 {
		var b strings.Builder
		for x := range code[y] {
			b.WriteString([]string{" ", "▄", "▀", "█"}[2*bit(light(y, x))+bit(light(y+1, x))])
		}
		fmt.Fprintf(out, "%s%s%s\n", before, b.String(), after)
	}
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

func onTerminal(out io.Writer) bool {
	f, ok := out.(*os.File)
	if !ok {
		return false
	}
	i, err := f.Stat()
	return err == nil && i.Mode()&os.ModeCharDevice != 0 && os.Getenv("TERM") != "dumb"
}

// sealed is a listener whose connections put the policy of the page on the few answers that the server
// gives by itself, before any handler is asked: to what is no HTTP, or too long.
type sealed struct{ network.Listener }

func (l sealed) Accept() (network.Conn, error) {
	c, err := l.Listener.Accept()
	if err != nil {
		return nil, err
	}
	return &sealedConn{Conn: c}, nil
}

type sealedConn struct{ network.Conn }

func (c *sealedConn) Write(b []byte) (int, error) {
	text := string(b[:min(len(b), 4096)])
	head, _, whole := strings.Cut(text, "\r\n\r\n")
	if !strings.HasPrefix(text, "HTTP/1.1 4") || !whole || strings.Contains(head, "Content-Security-Policy:") {
		return c.Conn.Write(b)
	}
	status, _, _ := strings.Cut(text, "\r\n")
	more := status + "\r\nContent-Security-Policy: default-src 'none'"
	if _, err := c.Conn.Write(append([]byte(more), b[len(status):]...)); err != nil {
		return 0, err
	}
	return len(b), nil
}
