// Package e2e holds the bench against a real browser: the built command serves a
// demo programme, Chromium opens it without a screen, and the tests look at the
// picture, press the keys and read the page as a person would.
package e2e

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"unspool/demo"
)

var update = flag.Bool("update", false, "write the golden pictures anew; look at them afterwards")

// cards of the demo programme that most tests open.
const cards = 8

var (
	built     string          // the command
	programme string          // folder of the demo
	browser   context.Context // the one browser; every test has its own tab in it
)

func TestMain(m *testing.M) {
	flag.Parse()
	code, err := all(m)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		code = 1
	}
	os.Exit(code)
}

// all builds the command, writes the demo, starts the browser and runs the tests.
func all(m *testing.M) (int, error) {
	dir, err := os.MkdirTemp("", "unspool-e2e-*")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(dir)
	built, programme = filepath.Join(dir, "unspool"), filepath.Join(dir, "sundhaven")
	if out, err := exec.Command("go", "build", "-o", built, "../../cmd/unspool").CombinedOutput(); err != nil {
		return 0, fmt.Errorf("the command does not build: %w\n%s", err, out)
	}
	if err := writeDemo(programme, cards, cards); err != nil {
		return 0, err
	}
	run, stop := chromedp.NewExecAllocator(context.Background(), flags(dir)...)
	defer stop()
	var end context.CancelFunc
	browser, end = chromedp.NewContext(run)
	defer end()
	if err := chromedp.Do(browser); err != nil {
		return 0, fmt.Errorf("Chromium does not start (Debian's package chromium): %w", err)
	}
	return m.Run(), nil
}

// flags keep the browser off the network and its pictures the same on every
// machine: sRGB, one screen point a dot, letters not fitted to the screen.
func flags(dir string) []chromedp.ExecAllocatorOption {
	o := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(filepath.Join(dir, "browser")))
	for name, value := range map[string]any{
		"force-color-profile": "srgb", "force-device-scale-factor": "1", "font-render-hinting": "none", "disable-lcd-text": true,
		"hide-scrollbars": true, "lang": "en", "host-resolver-rules": "MAP * ~NOTFOUND, EXCLUDE 127.0.0.1", "no-proxy-server": true,
		"disable-component-update": true, "disable-domain-reliability": true, "disable-quic": true, "no-pings": true, "disable-field-trial-config": true,
	} {
		o = append(o, chromedp.Flag(name, value))
	}
	return o
}

// writeDemo writes a demo of n cards. People past the first few have the
// portraits of the first: to draw one takes a tenth of a second.
func writeDemo(dir string, n, portraits int) error {
	var drawn [][]byte
	for f := range demo.Files(n) {
		var data []byte
		var err error
		photo := filepath.Ext(f.Name) == ".jpg"
		if photo && len(drawn) == portraits {
			data = drawn[len(f.Name)%portraits]
		} else if data, err = f.Make(); err != nil {
			return err
		} else if photo {
			drawn = append(drawn, data)
		}
		at := filepath.Join(dir, filepath.FromSlash(f.Name))
		if err := os.MkdirAll(filepath.Dir(at), 0o777); err != nil {
			return err
		}
		if err := os.WriteFile(at, data, 0o666); err != nil {
			return err
		}
	}
	return nil
}

// serve starts the bench on a card file and gives its address.
func serve(t testing.TB, file string) string {
	t.Helper()
	return start(t, "serve", file)
}

// start runs the command and gives the address it prints, without the slash at
// its end. The command ends with the test.
func start(t testing.TB, args ...string) string {
	t.Helper()
	cmd := exec.Command(built, args...)
	var told strings.Builder
	cmd.Stderr = &told
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(syscall.SIGTERM)
		late := time.AfterFunc(10*time.Second, func() { cmd.Process.Kill() })
		defer late.Stop()
		if cmd.Wait(); told.Len() > 0 {
			t.Errorf("the command said: %s", told.String())
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.Contains(line, "://127.0.0.1:") {
		t.Fatalf("the command printed %q, %v", line, err)
	}
	return strings.TrimSuffix(strings.TrimSpace(line), "/")
}

// right, tooLittle are two of the demo's card files; they differ in the black
// rule alone.
func right() string     { return filepath.Join(programme, "programme.yaml") }
func tooLittle() string { return filepath.Join(programme, "too-little.yaml") }
