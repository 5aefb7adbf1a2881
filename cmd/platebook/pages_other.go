//go:build !linux

package main

// largePages is for Linux alone.
func largePages() {}
