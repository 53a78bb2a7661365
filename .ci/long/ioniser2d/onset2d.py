"""onset of passive points in two dimensions: web of uniform charge over a span 2Y, gap h to metal behind it, earthed body 20 mm wide whose front stands at D,
room wall behind; a row of points (tips at d from the web) as nothing, or as an earthed fin"""
import sys; sys.path.insert(0, __file__.rsplit('/', 1)[0] or '.')
from ion2d import *
def field(D,d,h=.3,Y=.4,body=.02,room=.5,fin=False,planewide=False):
    yb=body/2
    up=graded([(0,yb,24,.02,1),(yb,.12,26,1,8),(.12,Y,16,1,3)])
    y=np.concatenate([-up[:0:-1],up])
    tip=D-d
    # x from body front 0; tip at D-d
    parts=[(-room,0,20,1,.03)]
    xs=graded(parts)
    a=graded([(0,tip/2,16,.3,1),(tip/2,tip,30,1,.01)]) if tip>0 else np.array([0.])
    b=graded([(tip,tip+d/2,30,.01,1),(tip+d/2,D,16,1,.3)])
    c=graded([(D,D+h,16,.1,1)])
    x=np.concatenate([xs[:-1],a[:-1],b[:-1],c])
    i0=len(xs)-1; it=i0+len(a)-1; iw=it+len(b)-1
    nx,ny=len(x)-1,len(y)-1
    dx,dy=np.diff(x),np.diff(y); xc,yc=(x[1:]+x[:-1])/2,(y[1:]+y[:-1])/2
    solid=np.zeros((nx,ny),bool)
    if planewide: solid[:i0,:]=True
    solid[:i0,np.abs(yc)<yb]=True
    if fin: solid[i0:it,np.abs(yc)<up[1]*1.01]=True
    pid=-np.ones((nx,ny),int); pid[~solid]=np.arange((~solid).sum()); n=(~solid).sum()
    I,J,V=[],[],[]; R=np.zeros(n)
    def put(i,j,v): I.append(np.atleast_1d(i));J.append(np.atleast_1d(j));V.append(np.atleast_1d(v)*np.ones(len(np.atleast_1d(i))))
    def pair(A,B,k,ha,hb):
        ok=(A>=0)&(B>=0); a,b_,kk=A[ok],B[ok],k[ok]
        put(a,a,kk);put(b_,b_,kk);put(a,b_,-kk);put(b_,a,-kk)
        o=(A>=0)&(B<0); put(A[o],A[o],(k*(ha+hb)/ha)[o])
        o=(B>=0)&(A<0); put(B[o],B[o],(k*(ha+hb)/hb)[o])
    for i in range(1,nx):
        k=dy/(xc[i]-xc[i-1])
        pair(pid[i-1],pid[i],k,dx[i-1]/2+0*dy,dx[i]/2+0*dy)
        if i==iw:
            # charge at the face shared by weights
            w=dx[i]/(dx[i-1]+dx[i]); R[pid[i-1]]+=dy*w/eps; R[pid[i]]+=dy*(1-w)/eps
    for j in range(1,ny):
        pair(pid[:,j-1],pid[:,j],dx/(yc[j]-yc[j-1]),dy[j-1]/2+0*dx,dy[j]/2+0*dx)
    put(pid[-1],pid[-1],dy/(dx[-1]/2))
    A0=pid[0]; ok=A0>=0; put(A0[ok],A0[ok],(dy/(dx[0]/2))[ok])
    M=coo_matrix((np.concatenate(V),(np.concatenate(I),np.concatenate(J))),shape=(n,n)).tocsc()
    f=splu(M).solve(R)
    mid=ny//2
    P=np.where(pid>=0,f[np.maximum(pid,0)],0.)
    return x,xc,P[:,mid],it,iw
h=.3
for D in (.05,.1,.3):
    d=.025
    planar=1/(eps)*( (D-d)/D )/(1/D+1/h)   # V at the tip per sigma
    x,xc,p,it,iw=field(D,d,planewide=True); a=np.interp(D-d,xc,p)
    x,xc,p,it,iw=field(D,d); b=np.interp(D-d,xc,p)
    x,xc,p,it,iw=field(D,d,fin=True)
    r=xc[it:it+12]-(D-d); A=p[it:it+12]/np.sqrt(r)
    print('D %g: planar law %.4g V/(uC/m2), plane in 2D %.4g, body 20 mm %.4g; fin: V/sqrt(r) %s'%(D,planar*1e-6,a*1e-6,b*1e-6,np.round(A*1e-6,0)))
    for Von in (3153.,):
        eff=[A[5]*np.sqrt(q) for q in (.005/4,.005/2)]
        print('   onset uC/m2: planar %.3f, body %.3f, fin at p/4 and p/2 (p 5 mm): %.3f %.3f'%(Von/planar*1e6,Von/b*1e6,Von/eff[0]*1e6,Von/eff[1]*1e6))
print('fin: web potential per charge, d_eff')
for d in (.0125,.025,.05):
  for D in (2*d,4*d,.3):
    for Y in (.2,.4):
      x,xc,p,it,iw=field(D,d,fin=True,Y=Y)
      r=xc[it+5]-(D-d); A=p[it+5]/np.sqrt(r)
      Vw=(p[iw-1]*(xc[iw]-x[iw])+p[iw]*(x[iw]-xc[iw-1]))/(xc[iw]-xc[iw-1])
      Vw=np.interp(D,xc,p)
      deff=1/(1/(eps*Vw)-1/h)
      print('d %g D %g Y %g Vw %.4g V/(uC/m2) deff %.3g = %.2f d, A/(2Vw/pi sqrt(2/d)) %.3f'%(d,D,Y,Vw*1e-6,deff,deff/d,A/(2*Vw/np.pi*np.sqrt(2/d))))
