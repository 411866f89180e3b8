(function(){
document.querySelectorAll("figure").forEach(function(f){
  var out=f.querySelector(".value"),at=-1,held=null;
  function marks(){return Array.prototype.filter.call(f.querySelectorAll("[data-v]"),function(m){return m.getClientRects().length})}
  function show(m){out.textContent=m?m.getAttribute("data-v"):""}
  function near(e){var best=null,least=24;marks().forEach(function(m){var r=m.getBoundingClientRect(),
    x=Math.max(r.left-e.clientX,0,e.clientX-r.right),y=Math.max(r.top-e.clientY,0,e.clientY-r.bottom),d=Math.hypot(x,y);if(d<least){least=d;best=m}});return best}
  f.querySelectorAll(".wide,.narrow").forEach(function(box){
    if(!box.querySelector("[data-v]"))return;
    box.tabIndex=0;
    box.addEventListener("pointermove",function(e){if(e.pointerType==="mouse")show(near(e))});
    box.addEventListener("pointerleave",function(e){if(e.pointerType==="mouse")show(null)});
    box.addEventListener("click",function(e){var m=near(e);held=m===held?null:m;show(held)});
    box.addEventListener("keydown",function(e){var all=marks(),step={ArrowRight:1,ArrowDown:1,ArrowLeft:-1,ArrowUp:-1}[e.key];
      if(step&&all.length){at=(at+step+all.length)%all.length;show(all[at]);e.preventDefault()}
      if(e.key==="Escape"){at=-1;show(null);box.blur()}});
  });
});
})();
