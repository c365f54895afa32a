"""What a log shows: the job step by step, readings judged, signs seen, how the brake was left."""
