package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	network "net"
)

func eveningFile(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "evening.toml")
	if err := os.WriteFile(path, []byte(eveningBin), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// An interrupt ends the program with exit code 0, open streams or not, and the file stays as it was.
func TestBenchStopsCleanly(t *testing.T) {
	path := eveningFile(t)
	p := startProcess(t, path, "127.0.0.1:0")
	a, err := http.Get("http://" + p.at + "/live")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	if err := p.cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- p.cmd.Wait() }()
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("it ended with %v", err)
		}
	case <-time.After(benchEnds / 2):
		t.Fatal("it does not end")
	}
	if src, err := os.ReadFile(path); err != nil || string(src) != eveningBin {
		t.Errorf("the file has changed: %v", err)
	}
	if entries, err := os.ReadDir(filepath.Dir(path)); err != nil || len(entries) != 1 {
		t.Errorf("something was left beside the bin file: %v %v", entries, err)
	}
}

// The units of the command line are those of the page; the bin's own words keep theirs.
func TestBenchHasTheUnitsAskedFor(t *testing.T) {
	p := startProcess(t, eveningFile(t), "127.0.0.1:0", "--units", "us")
	a, err := http.Get("http://" + p.at + "/lot")
	if err != nil {
		t.Fatal(err)
	}
	defer a.Body.Close()
	page, err := io.ReadAll(a.Body)
	if err != nil || !bytes.Contains(page, []byte(`name="units" value="us"`)) || !bytes.Contains(page, []byte("<small>oz</small>")) {
		t.Errorf("the form of a lot is not in ounces: %v\n%s", err, page)
	}
}

// What is no HTTP, or more than is read, gets the policy too, though no handler of ours answers it.
func TestBenchPolicyOnRawAnswers(t *testing.T) {
	p := startProcess(t, eveningFile(t), "127.0.0.1:0")
	for what, c := range map[string]struct {
		send string
		want int
	}{
		"no HTTP":         {"hello\r\n\r\n", 400},
		"no host":         {"GET / HTTP/1.1\r\n\r\n", 400},
		"two hosts":       {"GET / HTTP/1.1\r\nHost: localhost\r\nHost: localhost\r\n\r\n", 400},
		"a bad header":    {"GET / HTTP/1.1\r\nHost: localhost\r\nbad header\r\n\r\n", 400},
		"a long header":   {"GET / HTTP/1.1\r\nHost: localhost\r\nX: " + strings.Repeat("a", 1<<16) + "\r\n\r\n", 431},
		"an expectation":  {"POST /test HTTP/1.1\r\nHost: localhost\r\nExpect: tea\r\nContent-Length: 1\r\n\r\n", 417},
		"a bad length":    {"POST /test HTTP/1.1\r\nHost: localhost\r\nContent-Length: x\r\n\r\n", 400},
		"the whole star":  {"OPTIONS * HTTP/1.1\r\nHost: localhost\r\n\r\n", 400},
		"a strange proxy": {"CONNECT elsewhere.example:80 HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n", 403},
	} {
		conn, err := network.Dial("tcp", p.at)
		if err != nil {
			t.Fatal(err)
		}
		_ = conn.SetDeadline(time.Now().Add(10 * time.Second))
		_, _ = io.WriteString(conn, c.send) // it may be cut off in the middle
		a, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			conn.Close()
			continue
		}
		if a.StatusCode != c.want {
			t.Errorf("%s: status %d, want %d", what, a.StatusCode, c.want)
		}
		if len(a.Header.Values("Content-Security-Policy")) != 1 {
			t.Errorf("%s: status %d, headers %v", what, a.StatusCode, a.Header)
		}
		conn.Close()
	}
}

// On a network nobody gets in without the key that the terminal shows; the address with it lets one in.
func TestBenchOnANetwork(t *testing.T) {
	path := eveningFile(t)
	at, told := keyedProcess(t, path)
	for _, method := range []string{"GET", "POST"} {
		r, err := http.NewRequest(method, at, nil)
		if err != nil {
			t.Fatal(err)
		}
		a, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		a.Body.Close()
		if a.StatusCode != http.StatusUnauthorized || a.Header.Get("Content-Security-Policy") == "" {
			t.Errorf("%s without a key: status %d, headers %v", method, a.StatusCode, a.Header)
		}
	}
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	phone := http.Client{Jar: jar}
	a, err := phone.Get(at + "?key=" + *told.Key)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(a.Body)
	a.Body.Close()
	if err != nil || a.StatusCode != http.StatusOK || !strings.Contains(string(body), `name="outcome"`) || strings.Contains(a.Request.URL.String(), "key") {
		t.Errorf("with the key: status %d at %s, error %v", a.StatusCode, a.Request.URL, err)
	}
	if again, err := http.Get(at + "?key=" + *told.Key); err != nil || again.StatusCode != http.StatusForbidden {
		t.Errorf("the key a second time: %v %v", again.StatusCode, err)
	}
}

// keyedProcess serves on every address of this machine; only the loopback one is spoken to.
func keyedProcess(t *testing.T, path string) (at string, told benchWire) {
	t.Helper()
	p := startProcess(t, path, "0.0.0.0:0")
	told = p.told
	if !told.Keyed || told.Key == nil {
		t.Fatalf("told %+v", told)
	}
	for _, u := range told.URLs {
		if at, _, ok := strings.Cut(u, "?key="); ok && strings.HasPrefix(at, "http://127.0.0.1:") {
			return at, told
		}
	}
	t.Fatalf("no loopback address in %v", told.URLs)
	return "", told
}

func TestBenchRefuses(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"good.toml": eveningBin, "bad.toml": "[[lot]]\nnmae = \"x\"\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	good := filepath.Join(dir, "good.toml")
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"bench"}, exitWrongUse, "something is missing"},
		{[]string{"bench", "-"}, exitWrongUse, "standard input cannot be added to"},
		{[]string{"bench", filepath.Join(dir, "none.toml")}, exitCannot, "there is no file"},
		{[]string{"bench", filepath.Join(dir, "bad.toml")}, exitWrongUse, "nmae"},
		{[]string{"bench", good, "--listen", "nonsense"}, exitCannot, "could not listen"},
		{[]string{"bench", good, "--listen", "127.0.0.1:999999"}, exitCannot, "could not listen"},
	} {
		var out, errs bytes.Buffer
		if code := run(c.args, strings.NewReader(""), &out, &errs); code != c.code || !strings.Contains(errs.String(), c.says) || !strings.Contains(errs.String(), "hint: ") {
			t.Errorf("%v: exit code %d, says %s", c.args, code, &errs)
		}
	}
}

// The name a page answers to, by what it listens at.
func TestBenchPlace(t *testing.T) {
	at := func(ip string) network.Addr { return &network.TCPAddr{IP: network.ParseIP(ip), Port: 7420} }
	for _, c := range []struct {
		asked, ip string
		keyed     bool
		url       string
	}{
		{"127.0.0.1:7420", "127.0.0.1", false, "http://127.0.0.1:7420/"},
		{"localhost:7420", "::1", false, "http://[::1]:7420/"},
		{"192.0.2.7:7420", "192.0.2.7", true, "http://192.0.2.7:7420/"},
		{"bench.example:7420", "192.0.2.7", true, "http://192.0.2.7:7420/"},
		{":7420", "::", true, "http://127.0.0.1:7420/"},
	} {
		s, err := benchPlace(c.asked, at(c.ip))
		if err != nil || s.keyed != c.keyed || !strings.Contains(strings.Join(s.urls, " "), c.url) {
			t.Errorf("%s at %s: %+v, %v", c.asked, c.ip, s, err)
		}
		if host, _, _ := strings.Cut(c.asked, ":"); host == "bench.example" && s.hosts[0] != host {
			t.Errorf("it does not answer to %s: %v", host, s.hosts)
		}
	}
}

// The code in the terminal is read by a reader that is not ours. Without it the test is skipped.
func TestBenchTerminalCode(t *testing.T) {
	reader, err := exec.LookPath("zbarimg")
	if err != nil {
		t.Skip("no zbarimg here: apt-get install -y zbar-tools")
	}
	const address = "http://192.0.2.7:7420/?key=mjdkawii3ew2373nfhkxchtjvn3kznh2"
	var out bytes.Buffer
	told := benchTold{app: &app{out: &out}, place: benchSite{keyed: true, urls: []string{"http://192.0.2.7:7420/"}}}
	told.key("mjdkawii3ew2373nfhkxchtjvn3kznh2", "")
	var rows [][]bool // light
	for _, line := range strings.Split(out.String(), "\n") {
		if !strings.ContainsAny(line, "█▀▄") {
			continue
		}
		var up, down []bool
		for _, r := range line {
			up, down = append(up, r == '█' || r == '▀'), append(down, r == '█' || r == '▄')
		}
		rows = append(rows, up, down)
	}
	const size = 8 // pixels a module
	var pgm bytes.Buffer
	fmt.Fprintf(&pgm, "P5 %d %d 255\n", len(rows[0])*size, len(rows)*size)
	for _, row := range rows {
		for range size {
			for _, light := range row {
				pgm.Write(bytes.Repeat([]byte{byte(255 * bit(light))}, size))
			}
		}
	}
	file := filepath.Join(t.TempDir(), "code.pgm")
	if err := os.WriteFile(file, pgm.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	got, err := exec.Command(reader, "--quiet", "--raw", file).Output()
	if err != nil || strings.TrimSpace(string(got)) != address {
		t.Errorf("read %q, %v; want %q", got, err, address)
	}
}

// One line of JSON a key, and nothing else on standard output.
func TestBenchJSON(t *testing.T) {
	var out bytes.Buffer
	told := benchTold{app: &app{out: &out, json: true}, place: benchSite{keyed: true, urls: []string{"http://192.0.2.7:7420/"}}}
	told.key("one", "")
	told.key("two", "192.0.2.9:5000")
	d := json.NewDecoder(&out)
	var a, b benchWire
	if err := d.Decode(&a); err != nil || *a.Key != "one" || a.From != nil || a.URLs[0] != "http://192.0.2.7:7420/?key=one" {
		t.Errorf("told %+v, %v", a, err)
	}
	if err := d.Decode(&b); err != nil || *b.Key != "two" || b.From == nil || *b.From != "192.0.2.9:5000" {
		t.Errorf("told %+v, %v", b, err)
	}
}
