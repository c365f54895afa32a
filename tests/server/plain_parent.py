"""The parent of page kernels without the desks' modules: trial pages start none of them.

The server's tests begin some thirty servers; importing every desk for each took half of their time.
"""

from quizzes.server import kernel_program
from quizzes.server.forking.parent import main

kernel_program.warm_up = lambda: None

if __name__ == "__main__":
    main()
