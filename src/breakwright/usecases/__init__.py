"""What a person does with Breakwright, one file a deed; results are plain frozen data."""
