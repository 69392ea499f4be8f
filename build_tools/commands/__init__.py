"""The commands of the command line, one a module; each returns its exit status."""
