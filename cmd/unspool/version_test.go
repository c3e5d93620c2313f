package main

import (
	"bytes"
	"runtime/debug"
	"strings"
	"testing"
)

func TestVersion(t *testing.T) {
	setting := func(key, value string) debug.BuildSetting { return debug.BuildSetting{Key: key, Value: value} }
	for _, c := range []struct {
		build *debug.BuildInfo
		want  string
	}{
		{&debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: "v1.2.0"}}, "unspool v1.2.0 go1.26"},
		{&debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: "(devel)"}, Settings: []debug.BuildSetting{setting("vcs.revision", "0123456789abcdef"), setting("vcs.modified", "true")}},
			"unspool (devel) (revision 0123456789ab, changed since) go1.26"},
		{nil, "unspool, of an unknown build"},
	} {
		if got := version(c.build); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	var out, said bytes.Buffer
	if s := run(t.Context(), []string{"--version"}, &console{strings.NewReader(""), &out, &said}); s != exitGood || !strings.HasPrefix(out.String(), "unspool ") || !strings.Contains(out.String(), "go1.") || said.Len() > 0 {
		t.Errorf("status %d, %q, %q", s, out.String(), said.String())
	}
}
