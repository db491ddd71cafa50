package advise

import (
	"io/fs"
	"sync"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

var demo = sync.OnceValues(func() (*Adviser, error) {
	m, err := loadModel("northfork-4")
	if err != nil {
		return nil, err
	}
	return New(m)
})

func loadModel(unit string) (*model.Model, error) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "embedded", FS: knowledge.FS}}, Unit: unit})
	for _, d := range diags {
		if d.Severity == engine.Error {
			return nil, d
		}
	}
	return model.Build(k, k.Unit(unit))
}

func demoAdviser(t testing.TB) *Adviser {
	t.Helper()
	a, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func demoCase(t testing.TB, name string) *engine.CaseFile {
	t.Helper()
	src, err := fs.ReadFile(knowledge.FS, "cases/"+name+".hcl")
	if err != nil {
		t.Fatal(err)
	}
	c, diags := rules.LoadCase(name+".hcl", src)
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	return c
}
