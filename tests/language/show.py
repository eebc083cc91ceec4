import sys; sys.path.insert(0,"..")
from pathlib import Path
from support.styles import stored, said
SET={"choice_out_of_range":["drop=9 cm"],"choice_unknown":["drp=3 cm"],"choice_of_another_kind":["drop=3"]}
for f in sorted(Path("slips").resolve().glob("*.style")):
    try: out=said(stored(f,SET.get(f.stem,[])))
    except Exception as e: out="CRASH "+repr(e)
    if "-w" in sys.argv: f.with_suffix(".txt").write_text(out+"\n")
    print("=====",f.stem); print(out)
