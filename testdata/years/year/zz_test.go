package year

import (
	"fmt"
	"testing"

	"example.com/sawdatum/model"
)

func TestZZ(t *testing.T) {
	DebugHook = func(y *year, id string) {
		row, _ := y.plan().Row(id)
		fmt.Printf("---- %s %s %s: off %v U %v strips %d datum %d left %d further %v\n", y.at.Format("01-02"), id, row.Verdict, row.Offset, row.Expanded, row.Strips, row.Datum, row.Left, row.Further)
		for _, r := range y.plan().Reasons {
			if r.Code == "mounting" {
				fmt.Println("   ", r.Text)
			}
		}
		for _, r := range row.Reasons {
			if r.Weight != model.Explains {
				fmt.Println("   R", r.Code, r.Text)
			}
		}
		for _, w := range row.Ways {
			fmt.Println("   W", w.Text)
		}
	}
	Play(10, 100*micrometre, 0)
}
