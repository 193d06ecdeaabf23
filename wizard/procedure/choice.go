package procedure

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.com/sawdatum/model"
)

// Choice is the option that a text names: by what people call it, by the option itself, by the
// beginning of its name or of a word that no other has, and by its number where the options are shown
// with numbers. A knife is called by its thickness, and so has no number.
func (f Field) Choice(text string) (string, error) {
	text = strings.TrimSpace(text)
	thickness := f.Unit != model.NoUnit
	var fits []string
	for i, name := range f.called() {
		if strings.EqualFold(text, name) || thickness && sameLength(text, name, f.Unit) {
			fits = append(fits, f.Options[i])
		}
	}
	if len(fits) == 1 {
		return fits[0], nil
	}
	for _, o := range f.Options {
		if strings.EqualFold(text, o) {
			return o, nil
		}
	}
	if len(fits) > 1 {
		return "", fmt.Errorf("%q is what more than one is called: type %s", model.Clip(text), model.Either(fits))
	}
	choose := model.ChooseWord
	if f.Whole {
		choose = model.ChooseWhole
	}
	_, err := strconv.Atoi(text)
	if number := err == nil; thickness || number && !f.Numbered {
		return "", fmt.Errorf("%q is not one of them: type %s", model.Clip(text), model.Either(f.called()))
	}
	i, err := choose(text, f.called())
	if err != nil {
		return "", err
	}
	return f.Options[i], nil
}

// Name is what people call the option that a text names; the text itself where it names
// none.
func (f Field) Name(text string) string {
	option, err := f.Choice(text)
	if err != nil {
		return text
	}
	return f.called()[slices.Index(f.Options, option)]
}

func sameLength(text, name string, unit model.Unit) bool {
	a, err := model.ParseLength(text, unit)
	b, err2 := model.ParseLength(name, unit)
	return err == nil && err2 == nil && a.Length == b.Length
}

func (f Field) called() []string {
	if len(f.Called) > 0 {
		return f.Called
	}
	return f.Options
}
