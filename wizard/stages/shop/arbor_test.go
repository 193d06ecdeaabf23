package shop

import "testing"

// TestPitchInThreadsAnInch: sixteen threads an inch are a pitch of 1/16 in, 1.5875 mm; what does
// not come out even, 1.411111 mm, is taken to the nearest that inches show.
func TestPitchInThreadsAnInch(t *testing.T) {
	for text, want := range map[string]string{"16 tpi": "1/16 in", "16TPI": "1/16 in", "20 tpi": "0.05 in", "18 tpi": "0.055555 in", "2": "2 mm", "1/16 in": "1/16 in"} {
		if got, err := ParsePitch(context{}, text); err != nil || got.String() != want {
			t.Errorf("%s is %s, want %s: %v", text, got, want, err)
		}
	}
}
