package shop

import _ "example.com/sawdatum/testdata/update" // go test ./wizard/... -update
