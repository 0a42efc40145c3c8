"""From an answer as data to words, tables, JSON, a page and pictures. Computes no statistics."""
