"""The archive of signed records: bags that anybody can check, signed, chained, and each filed whole or not at all."""
