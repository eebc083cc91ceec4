import sys; sys.path.insert(0,"..")
from pathlib import Path
from support.styles import stored, said, values
for f in sorted(Path("features").resolve().glob("*.style")):
    try: out=values(stored(f))
    except Exception as e:
        import traceback; traceback.print_exc(limit=-3)
        out="CRASH "+repr(e)
    if "-w" in sys.argv: f.with_suffix(".txt").write_text(out+"\n")
    print("=====",f.stem); print(out)
