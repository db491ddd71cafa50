package check_test

import (
	"maps"
	"testing"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/check"
)

// TestNumbers: each number of a unit is counted once, under its own basis.
func TestNumbers(t *testing.T) {
	src := `language = 1
basis "invented" {
}
unit "a" {
  frequency "m" { rate = 0.02 }
  train {
    basis "published" {
      cite = "a table"
    }
    input  = "in"
    output = "c"
    gearset "g" {
      kind    = single
      sun     = "case"
      carrier = "c"
      ring    = "in"
      teeth   = [30, 60]
    }
  }
  brake "b" { holds = "c" }
  row "D" "1" {
    basis "recalled" {
    }
    apply     = []
    ratio     = 1.5
    converter = 2.0
  }
  pressure "idle" "D" { between = ["60 psi", "70 psi"] }
  component "p" {
    kind   = k
    serves = element.b
    frequency "m" { rate = 0.01 }
  }
  step "s" {
    minutes = 5
    refit   = 5
    exposes = ["p"]
  }
  limit "l" {
    high = "1 mm"
    basis "shop record" {
      cases = 4
    }
  }
}
`
	_, u, _ := rules.LoadUnitFile(rules.Options{}, rules.File{Name: "a.hcl", Src: []byte(src)})
	if u == nil {
		t.Fatal("no unit")
	}
	want := map[engine.BasisKind]int{engine.Published: 2, engine.Recalled: 2, engine.Invented: 6, engine.ShopRecord: 1}
	if got := check.Numbers(u); !maps.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
