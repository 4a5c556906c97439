// Package weighing rows one question, two strokes before and after, under everything that
// could turn its answer: forms of the model (engine/forms), holds, and whatever its
// caller rowed besides (inputs in doubt, definitions of load); and reads a verdict off all
// of it (study.Weight). Start with Question.
//
// It does not search: a caller whose strokes follow from a search asks again under each
// form and hands over the pairs. It ranks nothing and knows no script.
package weighing
