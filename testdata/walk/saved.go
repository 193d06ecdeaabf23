package walk

import (
	"fmt"
	"strings"
	"time"

	"example.com/sawdatum/profiles"
	"example.com/sawdatum/solver"
)

// onFile holds what the saved profile says against a story. On the full screen a save
// may come a moment after the answer.
func (t *Teller) onFile(what, want string) error {
	for begin := time.Now(); ; time.Sleep(20 * time.Millisecond) {
		f, err := profiles.Read(t.Path)
		if err != nil {
			return err
		}
		got, err := saved(f, what)
		if err != nil || got == want {
			return err
		}
		if time.Since(begin) > patience {
			return fmt.Errorf("but by the file it is: %s", got)
		}
	}
}

func saved(f profiles.File, what string) (string, error) {
	plan := solver.Plan(f.Profile)
	switch word, blade, _ := strings.Cut(what, " "); word {
	case "records":
		return fmt.Sprint(len(f.Profile.Records)), nil
	case "verdict":
		row, _ := plan.Blade(blade)
		return string(row.Verdict), nil
	case "ready":
		var ids []string
		for _, b := range plan.Blades {
			if b.Ready {
				ids = append(ids, b.ID)
			}
		}
		if len(ids) == 0 {
			return "none", nil
		}
		return strings.Join(ids, " "), nil
	}
	return "", fmt.Errorf("%q is no event and no check", what)
}
