package main

import (
	"runtime/debug"
	"strings"
)

// version says which build of Unspool this is: the module's version, and the
// state of the source where the build knows it.
func version(b *debug.BuildInfo) string {
	if b == nil {
		return "unspool, of an unknown build"
	}
	said := []string{"unspool"}
	if b.Main.Version != "" {
		said = append(said, b.Main.Version)
	}
	of := map[string]string{}
	for _, s := range b.Settings {
		of[s.Key] = s.Value
	}
	if r := of["vcs.revision"]; r != "" {
		state := "revision " + r[:min(12, len(r))]
		if of["vcs.modified"] == "true" {
			state += ", changed since"
		}
		said = append(said, "("+state+")")
	}
	return strings.Join(append(said, b.GoVersion), " ")
}
