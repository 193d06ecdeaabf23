package text

import (
	"fmt"
	"strconv"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
)

// openVersion checks the first key and brings an older tree up to the present
// format. It reports whether it changed anything.
func openVersion(r *reader, root *yaml.Node) (migrated bool) {
	if root.Kind != yaml.MappingNode || len(root.Content) < 2 || root.Content[0].Value != versionKey {
		r.fault(root, nil, fmt.Sprintf("the first key of a profile is %s: %d", versionKey, model.FormatVersion), "this is not a profile")
		return false
	}
	n := root.Content[1]
	at := &place{key: versionKey}
	version, err := strconv.Atoi(n.Value)
	switch {
	case n.Kind != yaml.ScalarNode || n.Tag != "!!int" || err != nil || version < 0 || !wholeForm.MatchString(n.Value):
		r.fault(n, at, fmt.Sprintf("write %s: %d", versionKey, model.FormatVersion), "%s is not a version of the format", nodeText(n))
	case version > model.FormatVersion:
		r.fault(n, at, "read it with a newer sawdatum", "version %d of the format is newer than this program, which knows %d", version, model.FormatVersion)
	default:
		for v := version; v < model.FormatVersion; v++ {
			migrations[v](root)
			migrated = true
		}
		n.Value = strconv.Itoa(model.FormatVersion)
	}
	return migrated
}

// migrations[v] changes a tree of version v to version v+1. What it cannot make
// sense of it leaves: reading finds it.
var migrations = []func(root *yaml.Node){
	0: func(root *yaml.Node) { // version 0 called the fence setting for comparisons width
		for i := 0; i+1 < len(root.Content); i += 2 {
			if root.Content[i].Value == "width" {
				root.Content[i].Value = "working_width"
			}
		}
	},
}
