"""``python -m pourcast`` is the command ``pourcast``."""

from pourcast.cli.main import main

if __name__ == "__main__":
    main()
