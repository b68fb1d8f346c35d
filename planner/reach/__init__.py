"""Timed reachability with difference-bound matrices: what every run of a plan keeps."""
