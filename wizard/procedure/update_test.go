package procedure

import _ "example.com/sawdatum/testdata/update" // go test ./wizard/... -update
