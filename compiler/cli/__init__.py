"""The commands, thin: arguments in, a job, its result printed."""
