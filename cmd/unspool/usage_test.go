package main

import (
	"bytes"
	"context"
	"strings"
	"testing"
)

// Whoever gets a command line wrong is told where it is explained.
func TestUsage(t *testing.T) {
	for _, c := range []struct {
		args          string
		status        int
		stdout, error string
	}{
		{"", exitWrong, "", "; see unspool --help\n"},
		{"help", exitGood, "Usage: unspool <command>", ""},
		{"help proof", exitGood, "Usage: unspool proof <programme>", ""},
		{"--help", exitGood, "Show this help.", ""},
		{"proff", exitWrong, "", "did you mean \"proof\"?; see unspool --help\n"},
		{"proof", exitWrong, "", "unspool: expected \"<programme>\"; see unspool proof --help\n"},
		{"symbol code39 1 --x 3.5", exitWrong, "", "; see unspool symbol --help\n"},
		{"symbol code39 1 --turn 45", exitWrong, "", "unspool: --turn: a turn of 45 degrees is not one of 0, 90, 180 and 270\n"},
	} {
		var out, wrong bytes.Buffer
		status := run(context.Background(), strings.Fields(c.args), &console{strings.NewReader(""), &out, &wrong})
		if status != c.status || !strings.Contains(out.String(), c.stdout) || !strings.HasSuffix(wrong.String(), c.error) {
			t.Errorf("unspool %s: status %d\n%s%s", c.args, status, out.String(), wrong.String())
		}
	}
}
