// Package source turns the bytes of a study file into fields: nodes that know where they
// stand, what they are called and where their mistakes go.
//
// It knows YAML and how to speak of what is wrong with a text; it knows no vehicle, no
// unit and no section of a study. A file is bounded in bytes before it is read, in signs
// before it is parsed, in depth before it is walked; aliases, tags, merge keys and second
// documents are refused. What is wrong is an Error with its place, the field's path, what
// was found and what is allowed; a Collector keeps the first hundred and counts the rest.
// One thing ends the reading early: a YAML syntax error.
package source
