"""One job: every input that a person enters, and the file it lives in.

``job`` is the frozen value, ``choices`` the rules that can be chosen, ``fields`` what each input is
called and means, ``document`` the file on disk.
"""
