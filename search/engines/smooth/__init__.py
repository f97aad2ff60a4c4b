"""The engine of smooth bodies: a linear programme grown by cutting planes, proved from both sides."""
