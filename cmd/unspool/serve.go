package main

import (
	"bufio"
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"time"

	"golang.org/x/term"

	"unspool/demo"
	"unspool/folder"
	"unspool/web"
)

// serveCmd puts a programme on the bench, a page in a browser.
type serveCmd struct {
	Programme string `arg:"" optional:"" help:"Programme folder, its card file, or a folder to begin a programme in. By default the Sundhaven demo."`

	Listen     string `default:"127.0.0.1:0" placeholder:"ADDRESS" help:"Address and port to answer at; port 0 takes a free one (default ${default})."`
	Cert       string `placeholder:"FILE" help:"TLS certificate, PEM. Needed for any address that other machines reach."`
	Key        string `placeholder:"FILE" help:"Private key of the certificate, PEM."`
	Passphrase string `name:"passphrase-file" placeholder:"FILE" help:"File whose first line is the passphrase. By default it is asked for at the terminal where one is needed."`
}

// Help is shown below the flags.
func (serveCmd) Help() string {
	return `Examples:
  unspool serve
  unspool serve sundhaven --listen 127.0.0.1:8080
  mkdir quay && unspool serve quay

Prints the address to open in a browser and answers until it is stopped from the
keyboard. In a folder without a programme.yaml the page begins a programme: roster
and photos are put in there. Nothing leaves this machine. An address that other
machines reach needs --cert, --key and a passphrase: whoever opens the page sees
the roster.`
}

// Times after which a connection is given up.
const (
	headTime  = 5 * time.Second
	readTime  = 15 * time.Second
	writeTime = 2 * time.Minute // a first card of a large face, on a slow machine
	idleTime  = 2 * time.Minute
	closeTime = 3 * time.Second
)

// maxHeader bounds the head of a request.
const maxHeader = 16 << 10

// Run answers until it is stopped.
func (c *serveCmd) Run(ctx context.Context, con *console) error {
	names, pair, err := c.open()
	if err != nil {
		return err
	}
	passphrase, err := c.passphrase(con, pair != nil)
	if err != nil {
		return err
	}
	options, closing, err := c.programme(ctx, con)
	if err != nil {
		return err
	}
	defer closing.Close()
	at, err := net.Listen("tcp", c.Listen)
	if err != nil {
		return fmt.Errorf("--listen %s: %w; name an address of this machine and a free port", c.Listen, errors.Unwrap(err))
	}
	defer at.Close()
	options.Hosts, options.Secure, options.Passphrase, options.Portrait = hosts(at.Addr(), names), pair != nil, passphrase, demo.Portrait
	options.Fault = func(what string) { fmt.Fprintln(con.Stderr, "unspool: "+what) }
	bench, err := web.New(options)
	if err != nil {
		return err
	}
	defer bench.Close()
	return c.answer(ctx, con, at, pair, bench)
}

// answer serves the bench until ctx ends.
func (c *serveCmd) answer(ctx context.Context, con *console, at net.Listener, pair *tls.Certificate, bench *web.Bench) error {
	server := &http.Server{Handler: bench.Handler(), ReadHeaderTimeout: headTime, ReadTimeout: readTime, WriteTimeout: writeTime,
		IdleTimeout: idleTime, MaxHeaderBytes: maxHeader, ErrorLog: log.New(io.Discard, "", 0)}
	scheme := "http"
	if pair != nil {
		scheme = "https"
		at = tls.NewListener(at, &tls.Config{Certificates: []tls.Certificate{*pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}})
	}
	fmt.Fprintf(con.Stdout, "%s://%s/\n", scheme, at.Addr())
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(at) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	bench.Close()
	late, cancel := context.WithTimeout(context.WithoutCancel(ctx), closeTime)
	defer cancel()
	if server.Shutdown(late) != nil {
		server.Close()
	}
	return nil
}

// open checks that an address that others reach is guarded. It gives the names
// of the certificate.
func (c *serveCmd) open() (names []string, pair *tls.Certificate, err error) {
	host, _, err := net.SplitHostPort(c.Listen)
	if err != nil {
		return nil, nil, fmt.Errorf("--listen %s: is no address with a port; write it as 127.0.0.1:8080", c.Listen)
	}
	if c.Cert == "" && c.Key == "" {
		if !loopback(host) {
			return nil, nil, fmt.Errorf("--listen %s: other machines reach this address; give --cert and --key, and a passphrase, or listen at 127.0.0.1", c.Listen)
		}
		return nil, nil, nil
	}
	p, err := tls.LoadX509KeyPair(c.Cert, c.Key)
	if err != nil {
		return nil, nil, fmt.Errorf("--cert %s --key %s: %w; name a certificate and its private key, both PEM", c.Cert, c.Key, err)
	}
	names = append(names, p.Leaf.DNSNames...)
	for _, ip := range p.Leaf.IPAddresses {
		names = append(names, ip.String())
	}
	return names, &p, nil
}

// loopback says whether a host is this machine alone. A name may lead anywhere,
// so only localhost counts.
func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// hosts are the values of the Host header that are answered at an address:
// itself, what this machine calls itself where it is loopback, and the names of
// the certificate. A browser leaves the usual port out.
func hosts(at net.Addr, names []string) (all []string) {
	tcp, ok := at.(*net.TCPAddr)
	if !ok {
		return nil
	}
	if tcp.IP.IsLoopback() {
		names = append(names, "localhost")
	}
	if !tcp.IP.IsUnspecified() {
		names = append(names, tcp.IP.String())
	}
	for _, n := range names {
		all = append(all, net.JoinHostPort(n, fmt.Sprint(tcp.Port)))
		if tcp.Port == 80 || tcp.Port == 443 {
			all = append(all, strings.TrimSuffix(net.JoinHostPort(n, ""), ":"))
		}
	}
	return all
}

// passphrase reads the passphrase; "" where none is needed.
func (c *serveCmd) passphrase(con *console, needed bool) (string, error) {
	var said string
	switch in, isFile := con.Stdin.(*os.File); {
	case c.Passphrase != "":
		f, err := os.Open(c.Passphrase)
		if err != nil {
			return "", fmt.Errorf("--passphrase-file %s: %w; name a file with the passphrase in its first line", c.Passphrase, errors.Unwrap(err))
		}
		defer f.Close()
		line, err := bufio.NewReader(io.LimitReader(f, 4096)).ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return "", fmt.Errorf("--passphrase-file %s: cannot be read (%w); name a file with the passphrase in its first line", c.Passphrase, err)
		}
		said = strings.TrimRight(line, "\r\n")
	case !needed:
		return "", nil
	case isFile && term.IsTerminal(int(in.Fd())):
		fmt.Fprint(con.Stderr, "Passphrase for the bench: ")
		typed, err := term.ReadPassword(int(in.Fd()))
		fmt.Fprintln(con.Stderr)
		if err != nil {
			return "", fmt.Errorf("the passphrase cannot be read (%w); give it with --passphrase-file", err)
		}
		said = string(typed)
	default:
		return "", errors.New("a passphrase is needed and there is no terminal to ask for it; give it with --passphrase-file")
	}
	if len([]rune(said)) < web.LeastPassphrase {
		return "", fmt.Errorf("the passphrase is too short; use %d characters or more", web.LeastPassphrase)
	}
	return said, nil
}

// programme opens what goes on the bench: the programme, a folder to begin one in,
// or the demo where none is named.
func (c *serveCmd) programme(ctx context.Context, con *console) (web.Options, io.Closer, error) {
	path := c.Programme
	if path == "" {
		cache, err := os.UserCacheDir()
		if err != nil {
			cache = os.TempDir()
		}
		d := demoCmd{Dir: filepath.Join(cache, "unspool", "sundhaven"), Cards: demo.Cards}
		quiet := &console{Stdin: con.Stdin, Stdout: con.Stderr, Stderr: con.Stderr} // standard output is for the address
		if err := d.files(ctx, quiet); err != nil {
			return web.Options{}, nil, err
		}
		path = d.Dir
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return web.Options{}, nil, fmt.Errorf("%s: there is no such file or folder; name a programme, or make the folder first to begin one in it", path)
	}
	if fresh, err := folder.OpenFresh(path); fresh != nil || err != nil {
		return web.Options{Fresh: fresh}, fresh, err
	}
	f, err := folder.Open(path)
	return web.Options{Folder: f}, f, err
}
