"""The interface for programs: what `import godet` gives. The commands are written on it."""
