// Package schema carries the JSON Schemas of the files that Unspool reads
// and writes, so that editors and other programs can check them.
package schema

import _ "embed"

// Programme is the JSON Schema (draft 2020-12) of a programme file. It tells
// structural faults, as package design does; what hangs on several keys at once,
// such as an element off the card, only design finds.
//
//go:embed programme.schema.json
var Programme []byte

// Proof is the JSON Schema (draft 2020-12) of proof.json, and of the summary
// that the proof command writes where JSON is asked for.
//
//go:embed proof.schema.json
var Proof []byte

// Grade is the JSON Schema (draft 2020-12) of what the grade command prints where
// JSON is asked for.
//
//go:embed grade.schema.json
var Grade []byte
