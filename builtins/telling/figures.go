package telling

import (
	"fmt"
	"slices"

	"thole/builtins/account"
	"thole/builtins/lang"
	"thole/builtins/rowing"
	"thole/engine/document"
	"thole/engine/figure"
)

var (
	nameParam = lang.Param{Name: "name", Is: lang.Text, ByName: true,
		Help: "names the figure and its files"}
	captionParam = lang.Param{Name: "caption", Is: lang.Text, ByName: true, Help: "a sentence beneath"}
	strokesParam = &lang.Param{Name: "strokes", Is: lang.ThingOf, Types: []string{"stroke"},
		Help: "one or several, labelled by their names"}
)

// tellFigure finishes a figure: name, caption, the sentence made from its data.
func tellFigure(c *lang.Call, f *document.Figure, name string) error {
	var err error
	if f.Name, err = filled(c, "name"); err != nil {
		return err
	}
	if f.Caption, err = filled(c, "caption"); err != nil {
		return err
	}
	if f.Name == "" {
		f.Name = name
	}
	if f.Table != nil {
		named := *f.Table
		named.Name = f.Name
		f.Table = &named
	}
	f.Sentence = figure.Sentence(f)
	tell(c, f)
	return nil
}

func init() {
	plotRecord.Do = plotDo
	plotPath.Do = plotPathDo
	plotCurves.Do = plotCurvesDo
	plotEnergy.Do = plotEnergyDo
	animateRecord.Do = animateDo
}

// strokesOf gives the strokes of a call, each with a name of its own.
func strokesOf(c *lang.Call, most int) ([]*rowing.Stroke, []string, error) {
	var out []*rowing.Stroke
	var names []string
	for i, v := range c.More {
		s, ok := rowing.StrokeType.From(v)
		if !ok {
			return nil, nil, lang.Mistake(c.Record.Name+" takes strokes, as row gives them",
				c.Record.Name+"(usual)", "value %d of %s is no stroke", i+1, c.Record.Name)
		}
		out, names = append(out, s), append(names, strokeName(s, i, len(c.More)))
	}
	if len(out) == 0 || len(out) > most {
		return nil, nil, lang.Mistake("", c.Record.Name+"(usual)", "%s takes 1 to %d strokes", c.Record.Name,
			most)
	}
	for i, name := range names { // the same name twice cannot label two lines
		if j := slices.Index(names, name); j < i {
			names[i] = fmt.Sprintf("%s (%d)", name, i+1)
		}
	}
	book := account.BookOf(c.Thread)
	for i, s := range out[1:] {
		rowing.TellLoad(book, out[0], s, names[0], names[i+1])
	}
	if len(out) == 1 {
		rowing.TellOwnLoad(book, c.More[0])
	}
	return out, names, nil
}

func strokeName(s *rowing.Stroke, i, n int) string {
	if s.Name != "" {
		return s.Name
	}
	if n == 1 {
		return "stroke"
	}
	return fmt.Sprintf("stroke %d", i+1)
}
