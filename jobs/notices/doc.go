// Package notices holds what the licences of others ask a program to show.
package notices
