package builtins

import (
	_ "embed"
	"strings"

	"thole/builtins/lang"
)

// topicsText holds the pages of help that belong to no function, each under a
// line "# name (other words for it): summary". A line that begins with "> " is an example: a test
// runs every one of them after the examples' common start.
//
//go:embed topics.txt
var topicsText string

// topics are the pages of help, in the order of the file.
var topics = append(readTopics(topicsText), sourcesTopic(), checksTopic())

func readTopics(text string) []lang.Topic {
	var out []lang.Topic
	for _, page := range strings.Split("\n"+text, "\n# ")[1:] {
		head, body, _ := strings.Cut(page, "\n")
		name, summary, _ := strings.Cut(head, ": ")
		name, also, _ := strings.Cut(name, " (")
		topic := lang.Topic{Name: name, Summary: summary, Text: strings.TrimSpace(body) + "\n"}
		if also != "" {
			topic.Also = strings.Split(strings.TrimSuffix(also, ")"), ", ")
		}
		out = append(out, withContents(topic))
	}
	return out
}
