"""What is made outside of the package: the digit network and the films it is tried on."""
