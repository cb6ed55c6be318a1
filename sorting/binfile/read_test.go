package binfile_test

import (
	"os"
	"testing"

	"brinecut/sorting"
	"brinecut/sorting/binfile"
)

func TestContractExampleReads(t *testing.T) {
	src, err := os.ReadFile("../../testdata/bins/contract.toml")
	if err != nil {
		t.Fatal(err)
	}
	b, warns, err := binfile.Read("contract.toml", src)
	if err != nil {
		t.Fatal(err)
	}
	if len(warns) > 0 {
		t.Errorf("warnings: %+v", warns)
	}
	if got := b.Lots[2]; got.Name != "crumbs" || got.Line != 66 || got.Mass.Value != 2150 || got.Origin != sorting.OwnPrint || !*got.Mixed {
		t.Errorf("third lot: %+v", got)
	}
	if got := b.Splits[0].Into[1]; got.Line != 97 || got.Name != "crumbs heavy" || got.Outcome != "sinks" || !got.OriginGiven {
		t.Errorf("second side: %+v", got)
	}
	if len(b.Tests) != 0 || len(b.Withdrawn) != 1 || b.Withdrawn[0].ID != "t1" {
		t.Errorf("the one test is withdrawn: %+v %+v", b.Tests, b.Withdrawn)
	}
	if b.Outlets[0].Pays.Currency != "EUR" || b.Supplier.Contact != "…" || b.Floor.Hardware.SD != 10 {
		t.Errorf("outlet, supplier or hardware: %+v %+v %+v", b.Outlets, b.Supplier, b.Floor)
	}
}
