package main

import (
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// The scripts run this test program as the command.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"unspool": main})
}

// TestScripts runs testdata/script/*.txt, one file a command or a kind of bad
// input. They use the tools of the Debian packages zbar-tools, imagemagick and
// bsdutils, and fail without them.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", Cmds: scriptCommands})
}
