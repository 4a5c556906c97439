package message

import (
	"fmt"
	"strings"

	"thole/builtins/session/source"
)

// power: v ** 2.
func (p *parsing) power(tok source.Lexeme) *Message {
	p.mark(tok)
	base, start := p.operand(p.k - 1)
	exp := p.at(1).Text
	if base == "" || exp == "" {
		return said("two stars make no power here", "powers are written out, or math.pow(v, 2)", "math.pow(v, 2)")
	}
	// what stands before the base, from the sign of the assignment or bracket on
	head := ""
	for i := start - 1; i >= 0 && p.all[i].Line == tok.Line; i-- {
		if t := p.all[i].Text; strings.Contains("=([{,:", t) || t == "return" || t == "+=" {
			if i+1 < start {
				head = p.span(i+1, start-1) + " "
			}
			break
		}
	}
	m := said("two stars make no power here", fmt.Sprintf("powers are written out, or math.pow(%s, %s)", base, exp), "")
	switch exp {
	case "2":
		m.Type = head + base + " * " + base
	case "3":
		m.Type = head + base + " * " + base + " * " + base
	default:
		m.Type = fmt.Sprintf("%smath.pow(%s, %s)", head, base, exp)
	}
	return m
}

// formatted: f"Outboard {x}".
func (p *parsing) formatted(f source.Lexeme) *Message {
	p.mark(f)
	p.n++ // with its quote
	p.code = p.src.CodeLine(p.line)
	r := []rune(p.code)
	line := strings.TrimSpace(string(r[:f.Col-1]) + string(r[min(len(r), f.End-1):]))
	m := said("a text needs no f in front", "whatever is told fills its {names} by itself", line)
	if first := p.first(); first.Kind == source.Word && p.k >= 3 && p.at(-2).Text == "=" && p.at(-3) == first {
		m.Why = "fill() fills the {names} of a text that is not told at once"
		m.Type = first.Text + " = fill(" + strings.TrimSpace(line[strings.Index(line, "=")+1:]) + ")"
	}
	return m
}

// identity: x is None.
func (p *parsing) identity(k int) *Message {
	p.mark(p.all[k])
	m := said("is compares nothing here", "two values are compared with ==, a blank with == None", "x == None")
	if k == 0 || k+1 >= len(p.all) {
		return m
	}
	left, _ := p.operand(k - 1)
	op, right := "==", p.all[k+1].Text
	if right == "not" && k+2 < len(p.all) {
		op, right = "!=", p.all[k+2].Text
	}
	m.Type = left + " " + op + " " + right
	return m
}

// chained: 198 <= x <= 202.
func (p *parsing) chained(tok source.Lexeme) *Message {
	m := said("one comparison at a time", "two of them are joined with and", "a <= x and x <= b")
	middle, start := p.operand(p.k - 1)
	if start < 2 || middle == "" {
		return m
	}
	line := p.src.CodeLine(tok.Line)
	r := []rune(line)
	m.Type = strings.TrimSpace(string(r[:tok.Col-1]) + "and " + middle + " " + string(r[tok.Col-1:]))
	return m
}

var signs = map[string][3]string{
	"&&": {"two conditions are joined with and", "words stand where other languages have signs", "and"},
	"&":  {"two conditions are joined with and", "words stand where other languages have signs", "and"},
	"||": {"of two conditions one is taken with or", "words stand where other languages have signs", "or"},
	"|":  {"of two conditions one is taken with or", "words stand where other languages have signs", "or"},
	"!":  {"a condition is turned round with not", "words stand where other languages have signs", "not"},
	"<>": {"two values that differ are compared with !=", "there is no <>", "!="},
	":=": {"a name is given in a line of its own", "there is no :=", "name = value"},
	"×":  {"this sign multiplies nothing", "numbers are multiplied with *", "*"},
	"·":  {"this sign multiplies nothing", "numbers are multiplied with *", "*"},
	"?":  {"? has no place here", "a choice is written a if condition else b", "a if x > 0 else b"},
	"@":  {"@ has no place here", "names are letters, digits and _", "the line without it"},
	"$":  {"$ has no place here", "names are letters, digits and _", "the line without it"},
	";":  {"; has no place here", "each line stands by itself", "a new line"},
}

// foreign: signs of other languages, units, kinds.
func (p *parsing) foreign(tok, prev, next source.Lexeme) *Message {
	c := ""
	if tok.Text != "" {
		c = string([]rune(tok.Text)[:1])
	}
	switch {
	case c != "" && strings.Contains("“”„‘’«»`", c):
		p.n = 1
		return said("this is a quote of a word processor", "texts stand between straight quotes", `"..."`)
	case c != "" && strings.Contains("–—−", c):
		p.n = 1
		return said("this is a dash of a word processor", "minus is the plain sign on the keyboard", "-")
	case c != "" && strings.Contains("°²³€", c):
		p.n = 1
		return said("units stand in texts only", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", "the number alone")
	case tok.Text == "++" || tok.Text == "--" || prev.Text == "++" || prev.Text == "--":
		if prev.Text == "++" || prev.Text == "--" {
			tok = prev
			p.k--
			p.mark(tok)
		}
		name := p.at(-1).Text
		return said("there is no "+tok.Text, "a count goes on with +=", strings.TrimSpace(name+" "+tok.Text[:1]+"= 1"))
	case tok.Text == "->":
		return said("a def says nothing about kinds", "its line ends with a colon", strings.TrimSpace(p.before())+":")
	case tok.Text == ":" && p.first().Text == "def" && !strings.Contains(p.before(), ")"):
		return said("an input has no kind", "its name is enough", "def "+p.at(-3).Text+"(...):")
	case tok.Kind == source.Word && next.Text == "=" && p.k > 0 && endsValue(prev) && tok.Line == prev.Line:
		return said("a comma is missing", "a comma stands between what goes between the brackets", prev.Text+", "+tok.Text+"=")
	case (tok.Kind == source.Word || tok.Text == "%" && strings.Contains(",)", next.Text)) && prev.Kind == source.Number && touching(prev, tok):
		if strings.HasPrefix(tok.Text, "_") {
			return said("a number has no _", "digits stand together", prev.Text+strings.ReplaceAll(tok.Text, "_", ""))
		}
		return said("a number stands without its unit", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", prev.Text)
	case tok.Kind == source.Word && prev.Kind == source.Number && tok.Line == prev.Line && !keywords[tok.Text]:
		return said("a number stands without its unit", "numbers are typed bare, in the trade's unit: cm, degrees, m/s, W", prev.Text)
	}
	if r, ok := signs[tok.Text]; ok {
		return said(r[0], r[1], r[2])
	}
	if r, ok := signs[prev.Text]; ok && len(prev.Text) == 2 {
		p.mark(prev)
		return said(r[0], r[1], r[2])
	}
	return nil
}

// endsValue tells whether a value may end with a lexeme.
func endsValue(l source.Lexeme) bool {
	return l.Kind == source.Number || l.Kind == source.Quoted || l.Kind == source.Word && !keywords[l.Text] || l.Text == ")" || l.Text == "]" || l.Text == "}"
}
