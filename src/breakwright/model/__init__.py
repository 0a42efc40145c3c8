"""What a breaking test is made of: frozen values, in N and mm, that know no file or chart."""
