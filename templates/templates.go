// Package templates holds the embedded files: fonts with their licences,
// wording, and the offline page's style and script.
package templates
