package complaint_test

import (
	"reflect"
	"strings"
	"testing"

	"slipcase/engine/complaint"
)

// Scan lists of our own invention, as tools print them and people type them.
func TestCodes(t *testing.T) {
	for _, c := range []struct {
		text string
		want []complaint.Code
	}{
		{"P0741 TCC perf (pending) / P0700, U0100", []complaint.Code{{Name: "P0741", Status: "pending", Words: "TCC perf (pending"}, {Name: "P0700"}, {Name: "U0100"}}},
		{"Stored codes:\nP0741-00 converter clutch\nP0700\nPending codes\np0894", []complaint.Code{{Name: "P0741", Status: "stored", Words: "converter clutch"}, {Name: "P0700", Status: "stored"}, {Name: "P0894", Status: "pending"}}},
		{"pending: p0776, p2714", []complaint.Code{{Name: "P0776", Status: "pending"}, {Name: "P2714", Status: "pending"}}},
		{"PO741 and P07421C, then P0741 stored", []complaint.Code{{Name: "P0741", Status: "stored", Words: "and"}, {Name: "P0742", Words: "then"}}},
		{"C1234 B10FF P3FFF P4000 P074 XP0741 P0741X decode coded faced", []complaint.Code{{Name: "C1234"}, {Name: "B10FF"}, {Name: "P3FFF", Words: "P4000 P074 XP0741 P0741X decode coded faced"}}},
		{"Stored: P0741\nP0700\nPending: P1870", []complaint.Code{{Name: "P0741", Status: "stored"}, {Name: "P0700", Status: "stored"}, {Name: "P1870", Status: "pending"}}},
		{"no codes", nil},
		{"", nil},
	} {
		if got := complaint.Codes(c.text); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%q:\n got %+v\nwant %+v", c.text, got, c.want)
		}
	}
}

func FuzzCodes(f *testing.F) {
	for _, s := range []string{"P0741 pending\nU0100", "stored: p0741-00; P0700", "PO741", strings.Repeat("P0", 40), "P0741\xff\xfe", "Pending:\n\n:::P0700"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		seen := map[string]bool{}
		for _, c := range complaint.Codes(text) {
			if len(c.Name) != 5 || seen[c.Name] || len(c.Words) > 200 {
				t.Errorf("%q: %+v", text, c)
			}
			seen[c.Name] = true
			if got := complaint.Codes(c.Name); len(got) != 1 || got[0].Name != c.Name {
				t.Errorf("%s does not read as itself", c.Name)
			}
		}
	})
}
