package text

import "example.com/sawdatum/model"

// Show is model.Printable, cut where it is long.
func Show(s string) string { return model.PrintableTo(s, 400) }
