package answer

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/big"
	"testing"

	"slipcase/engine"
)

func TestNumHasNineDigits(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{
		{0, "0"}, {math.Copysign(0, -1), "0"}, {1, "1"}, {1.0 / 3, "0.333333333"}, {2.0 / 3 * 1e-9, "6.66666667e-10"},
		{123456789012, "1.23456789e+11"}, {math.NaN(), "null"}, {math.Inf(1), "null"},
	} {
		got, err := json.Marshal(Num(c.in))
		if err != nil || string(got) != c.want {
			t.Errorf("%v: got %s, %v; want %s", c.in, got, err, c.want)
		}
	}
}

func TestRatio(t *testing.T) {
	if RatioOf(nil) != nil {
		t.Error("nil must stay nil")
	}
	if got := RatioOf(big.NewRat(14, 5)); got.Exact != "14/5" || got.Value != 2.8 {
		t.Errorf("got %+v", got)
	}
}

func TestEnvelopeOnFailure(t *testing.T) {
	var b bytes.Buffer
	e := Envelope{Schema: "slipcase/x/1", Error: &ErrorCode{Clash}}
	if err := e.Write(&b); err != nil {
		t.Fatal(err)
	}
	want := "{\n  \"schema\": \"slipcase/x/1\",\n  \"program\": \"\",\n  \"rules\": \"\",\n  \"method\": \"\",\n  \"input\": null,\n  \"data\": null,\n  \"diagnostics\": [],\n  \"error\": {\n    \"code\": \"clash\"\n  }\n}\n"
	if b.String() != want {
		t.Errorf("got %s", b.String())
	}
}

func TestFailureTellsTheFirstError(t *testing.T) {
	f := &Failure{Messages: []Message{Warning("w", ""), Error("e", "")}}
	if f.Error() != "e" {
		t.Errorf("got %q", f.Error())
	}
	if AsFailure(f) != f {
		t.Error("a failure must stay itself")
	}
}

// What several requests share is not changed under them.
func TestUnderLeavesTheFailureAlone(t *testing.T) {
	f := Fail(Rules, "x", "")
	if g := f.Under("hash"); g.Rules != "hash" || f.Rules != "" {
		t.Errorf("got %q, and %q of the first", g.Rules, f.Rules)
	}
}

func TestCodeOfOtherErrors(t *testing.T) {
	for _, c := range []struct {
		err  error
		want Code
	}{
		{errors.New("x"), Internal},
		{fmt.Errorf("reading: %w", context.Canceled), Canceled},
		{fmt.Errorf("reading: %w", Fail(TooWide, "x", "")), TooWide},
	} {
		if got := AsFailure(c.err).Code; got != c.want {
			t.Errorf("%v: %s, want %s", c.err, got, c.want)
		}
	}
}

// Hints stand beside the fields of the diagnostic.
func TestMessageAsJSON(t *testing.T) {
	got, err := json.Marshal(Message{engine.Diagnostic{Severity: engine.Error, Summary: "s"}, []Hint{Do(ShowCase, "26-0001")}, nil, false})
	var back struct {
		Severity, Summary string
		Hints             []Hint
	}
	if err == nil {
		err = json.Unmarshal(got, &back)
	}
	if err != nil || back.Severity != "error" || back.Summary != "s" || len(back.Hints) != 1 || back.Hints[0].Args[0] != "26-0001" {
		t.Errorf("%s: %+v, %v", got, back, err)
	}
}
