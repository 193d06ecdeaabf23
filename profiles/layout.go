package profiles

import "gopkg.in/yaml.v3"

type layout struct{}

func layoutOf(root *yaml.Node, data []byte) layout { return layout{} }
