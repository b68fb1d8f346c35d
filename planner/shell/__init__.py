"""The command line: the only room that reads, writes, runs or prints."""
